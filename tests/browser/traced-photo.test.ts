import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { begin, fingers, middle, type Px, pull, textOf, told, value } from "./own-car-hand.ts";
import { bothThemes, type Site, startSite, undoName } from "./site.ts";

let site: Site;
beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

/** The linkage of sheet 1 as a photo: places in mm, each with a colour of its own. */
const TRUTH = { lowerInner: [48, 32], lowerOuter: [120, 28], upperInner: [56, 76], upperOuter: [120, 72] } as const;
const COLOURS = { lowerInner: [255, 0, 0], lowerOuter: [0, 200, 0], upperInner: [0, 0, 255], upperOuter: [255, 0, 255] } as const;
const SIZE: Px = [900, 560];
const RECTANGLE: readonly Px[] = [
  [-130, 150],
  [130, 150],
  [130, 12],
  [-130, 12],
];

/** A pinhole camera that stands askew before the axle's plane (x right, z up, mm): turned about all three axes, 700 mm away. */
function seen([x, z]: Px): Px {
  const [yaw, pitch, roll] = [0.28, 0.16, 0.07];
  const [a, b] = [x - 10, z - 60];
  const [u, v] = [a * Math.cos(roll) - b * Math.sin(roll), a * Math.sin(roll) + b * Math.cos(roll)];
  const depth = 700 + u * Math.sin(yaw) + v * Math.sin(pitch);
  return [SIZE[0] / 2 + (1500 * u * Math.cos(yaw)) / depth, SIZE[1] / 2 - (1500 * (v * Math.cos(pitch) + 0.1 * u * Math.sin(yaw))) / depth];
}

/** The photo that this camera takes, drawn by the page itself. */
async function photoOf(page: Page): Promise<Buffer> {
  const poly = (points: readonly Px[]): readonly Px[] => points.map(seen);
  const wheel = (s: number): readonly Px[] =>
    poly([
      [s * 134, 0],
      [s * 170, 0],
      [s * 170, 96],
      [s * 134, 96],
    ]);
  const discs = Object.entries(TRUTH).map(([name, at]) => ({ at: seen(at), colour: `rgb(${COLOURS[name as keyof typeof COLOURS].join(",")})` }));
  const url = await page.evaluate(
    ([size, wheels, rectangle, marks]) => {
      const c = document.createElement("canvas");
      [c.width, c.height] = size as [number, number];
      const g = c.getContext("2d") as CanvasRenderingContext2D;
      g.fillStyle = "#ddd8d0";
      g.fillRect(0, 0, c.width, c.height);
      const path = (points: readonly (readonly [number, number])[]): void => {
        g.beginPath();
        for (const [x, y] of points) g.lineTo(x, y);
        g.closePath();
      };
      for (const w of wheels) {
        path(w);
        g.fillStyle = "#444";
        g.fill();
      }
      path(rectangle);
      g.stroke();
      for (const m of marks) {
        g.fillStyle = m.colour;
        g.beginPath();
        g.arc(m.at[0], m.at[1], 6, 0, 7);
        g.fill();
      }
      return c.toDataURL("image/png");
    },
    [SIZE, [wheel(-1), wheel(1)], poly(RECTANGLE), discs] as const,
  );
  return Buffer.from(url.split(",")[1] as string, "base64");
}

const choose = (page: Page, name: string, buffer: Buffer, mimeType = "image/png"): Promise<void> =>
  page.locator("[data-act=photo-choose]").setInputFiles({ name, mimeType, buffer });

/** The same file dropped on the page, or pasted, as the browser itself would tell of it. */
const hand = (page: Page, how: "drop" | "paste", name: string, buffer: Buffer, type = "image/png"): Promise<void> =>
  page.evaluate(
    ([way, called, data, kind]) => {
      const held = new DataTransfer();
      held.items.add(new File([Uint8Array.from(atob(data), (c) => c.charCodeAt(0))], called, { type: kind }));
      const told = { bubbles: true, cancelable: true };
      if (way === "paste") window.dispatchEvent(new ClipboardEvent("paste", { ...told, clipboardData: held }));
      else document.querySelector(".own-stage")?.dispatchEvent(new DragEvent("drop", { ...told, dataTransfer: held }));
    },
    [how, name, buffer.toString("base64"), type] as const,
  );

/** Middle of a colour's spot on the page's picture, px of the page. */
async function spotOf(page: Page, colour: readonly number[]): Promise<Px> {
  const box = await page.locator(".own-stage").boundingBox();
  if (!box) throw new Error("no stage");
  const png = await page.screenshot({ clip: box });
  const [x, y] = await page.evaluate(
    async ([data, wanted]) => {
      const img = new Image();
      img.src = `data:image/png;base64,${data}`;
      await img.decode();
      const c = document.createElement("canvas");
      [c.width, c.height] = [img.width, img.height];
      const g = c.getContext("2d") as CanvasRenderingContext2D;
      g.drawImage(img, 0, 0);
      const d = g.getImageData(0, 0, c.width, c.height).data;
      let [n, sx, sy] = [0, 0, 0];
      for (let i = 0; i < d.length; i += 4) {
        if (Math.abs(d[i]! - wanted[0]!) + Math.abs(d[i + 1]! - wanted[1]!) + Math.abs(d[i + 2]! - wanted[2]!) > 130) continue;
        n++;
        sx += ((i / 4) % c.width) + 0.5;
        sy += Math.floor(i / 4 / c.width) + 0.5;
      }
      return [sx / n, sy / n];
    },
    [png.toString("base64"), colour] as const,
  );
  return [box.x + (x as number), box.y + (y as number)];
}

describe("a photo of a known linkage, taken askew", () => {
  it("is put to scale by its marks, and pins pulled onto it are true to a pixel's worth", async () => {
    const { page, complaints } = await site.open();
    await begin(page);
    await page.locator("[data-step=pins]").click();
    await choose(page, "axle.png", await photoOf(page));
    await page.locator("[data-act=photo-straighten]").check();
    const canvas = await page.locator(".own-photo").boundingBox();
    if (!canvas) throw new Error("no photo");
    const onPage = (p: Px): Px => [canvas.x + (p[0] * canvas.width) / SIZE[0], canvas.y + (p[1] * canvas.height) / SIZE[1]];
    // the known distance goes across the rectangle; the level line goes from tyre to tyre on the table
    const marks: readonly (readonly [string, Px])[] = [
      ["mark.left", [-152, 0]],
      ["mark.right", [152, 0]],
      ...RECTANGLE.map((p, i) => [`mark.corner${i}`, p] as const),
      ["mark.a", [-130, 150]],
      ["mark.b", [130, 12]],
    ];
    for (const [id, mm] of marks) await pull(page, `[data-grip="${id}"]`, onPage(seen(mm)));
    // a slip of the hand goes back
    const lies = await middle(page, '[data-grip="mark.left"]');
    await pull(page, '[data-grip="mark.left"]', [lies[0] + 40, lies[1] + 30]);
    await page.locator("[data-act=photo-back]").click();
    await expect.poll(() => middle(page, '[data-grip="mark.left"]')).toEqual(lies);
    const type = async (label: RegExp, text: string): Promise<void> => {
      await page.getByLabel(label).fill(text);
      await page.keyboard.press("Enter");
    };
    await type(/^the two upper marks are apart/, `${Math.hypot(260, 138) / 8} holes`);
    await type(/^the rectangle is wide/, "260");
    await type(/^and high/, "138");
    await page.locator("[data-act=photo-lock]").click();
    await page.locator(".own-under").waitFor();
    const said = /1 pixel of the photo is ([\d.]+) mm; .* sure to ±([\d.]+) mm/.exec(await textOf(page, ".own-told"));
    const mmPerPx = Number(said?.[1]);
    // 1500 px of focal length at 700 mm: 2.14 px per mm straight on, somewhat less askew
    expect(mmPerPx).toBeGreaterThan(0.42);
    expect(mmPerPx).toBeLessThan(0.55);
    // the drawing lies over the spots: out of the way while they are looked for
    await page.locator(".own-under input[type=range]").fill("1");
    await page.evaluate(() => {
      for (const el of document.querySelectorAll<HTMLElement>(".own-drawing, .own-grips, .own-note")) el.style.opacity = "0";
    });
    for (const pin of ["lowerOuter", "upperOuter", "lowerInner", "upperInner"] as const) {
      await pull(page, `[data-grip="${pin}"]`, await spotOf(page, COLOURS[pin]));
      for (const [i, way] of (["out", "up"] as const).entries()) {
        await expect
          .poll(async () => Math.abs(Number(await value(page, `${pin}.${way}`)) - TRUTH[pin][i]!), { message: `${pin} ${way}` })
          .toBeLessThan(mmPerPx);
        // ten marks, each to a pixel of half a mm, make about twice that together
        expect(await told(page, `${pin}.${way}`)).toMatch(/^traced ±(0\.[5-9]|1\.[0-4])\d*$/);
      }
    }
    expect(await undoName(page)).toContain("upper inner pin to");

    // it comes back with its marks after a reload, locked under the drawing, and is no part of a link or a design
    await page.waitForTimeout(300);
    await page.reload();
    await page.waitForSelector("html[data-ready]", { state: "attached" });
    await page.locator(".own-photo").waitFor();
    await expect.poll(() => page.evaluate(() => document.querySelector<HTMLCanvasElement>(".own-photo")?.width)).toBe(SIZE[0]);
    expect(await textOf(page, ".own-told")).toContain(`1 pixel of the photo is ${said?.[1]} mm`);
    expect(await page.evaluate(() => Object.keys(localStorage).every((k) => !localStorage.getItem(k)?.includes("data:image")))).toBe(true);
    expect(await bothThemes(page)).toEqual([]);

    // what is no photo, or none that can be opened, is told, and all stays
    await page.locator("[data-act=photo-remove]").click();
    await page.locator("[data-act=photo-put-back]").click();
    await page.locator(".own-photo").waitFor();
    await page.locator("[data-act=photo-remove]").click();
    const before = await undoName(page);
    const png = (w: number, h: number): Buffer => {
      const b = Buffer.alloc(64);
      b.set([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52]);
      b.writeUInt32BE(w, 16);
      b.writeUInt32BE(h, 20);
      return b;
    };
    const hostile: readonly (readonly [string, Buffer, string])[] = [
      ["broken.png", png(800, 600), "broken.png: this is no picture that this browser can read, or it is damaged. Nothing has changed."],
      [
        "huge.png",
        png(30000, 20000),
        "huge.png: this picture has 30000 by 20000 pixels; up to 65 million can be opened. Save it smaller. Nothing has changed.",
      ],
      [
        "letter.jpg",
        Buffer.from("Dear builder, this is a letter and no picture at all."),
        "letter.jpg: this is no picture that this browser can read, or it is damaged. Nothing has changed.",
      ],
      ["empty.png", Buffer.alloc(0), "empty.png: this file is empty. Nothing has changed."],
    ];
    for (const [i, [name, bytes, sentence]] of hostile.entries()) {
      if (i === 0) await hand(page, "drop", name, bytes);
      else await choose(page, name, bytes);
      await expect.poll(() => textOf(page, ".own-fault")).toBe(sentence);
      expect(await page.locator('[data-grip^="mark."]').count()).toBe(0);
    }
    expect(await undoName(page)).toBe(before);

    // a photo that its metadata turns stands upright: 300 by 200 px lying on their side become 200 by 300
    const lying = await page.evaluate(async () => {
      const c = document.createElement("canvas");
      [c.width, c.height] = [300, 200];
      c.getContext("2d")?.fillRect(0, 0, 150, 100);
      return c.toDataURL("image/jpeg");
    });
    const jpeg = Buffer.from(lying.split(",")[1] as string, "base64");
    // Exif 2.32, 4.6: one entry, orientation (0x0112) 6, "the 0th row is the right-hand side"
    const exif = Buffer.from("ffe100224578696600004d4d002a00000008000101120003000000010006000000000000", "hex");
    await hand(page, "paste", "lying.jpg", Buffer.concat([jpeg.subarray(0, 2), exif, jpeg.subarray(2)]), "image/jpeg");
    await expect
      .poll(() =>
        page.evaluate(() => [document.querySelector<HTMLCanvasElement>(".own-photo")?.width, document.querySelector<HTMLCanvasElement>(".own-photo")?.height]),
      )
      .toEqual([200, 300]);
    expect(await textOf(page, ".own-fault")).toBe("");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("is marked, looked at near by and traced with fingers, at 390 by 844", async () => {
    const { page, complaints } = await site.open({ viewport: { width: 390, height: 844 }, hasTouch: true });
    await page.locator("[data-act=own-car]").tap();
    await page.locator("[data-act=own-start]").tap();
    await page.locator("[data-step=pins]").tap();
    await choose(page, "axle.png", await photoOf(page));
    await page.locator('[data-grip="mark.a"]').waitFor();
    const touch = await fingers(page);
    const pullBy = async (selector: string, dx: number, dy: number): Promise<Px> => {
      const [x, y] = await middle(page, selector);
      await touch("touchStart", [[x, y]]);
      for (let i = 1; i <= 4; i++) await touch("touchMove", [[x + (dx * i) / 4, y + (dy * i) / 4]]);
      await touch("touchEnd", []);
      return [x + dx, y + dy];
    };
    const [x, y] = await pullBy('[data-grip="mark.a"]', -20, 15);
    await expect.poll(async () => Math.hypot(...(await middle(page, '[data-grip="mark.a"]')).map((v, i) => v - [x, y][i]!))).toBeLessThan(2);
    const wide = async (): Promise<number> => (await page.locator(".own-photo").boundingBox())?.width ?? 0;
    const before = await wide();
    const [cx, cy] = await middle(page, ".own-photo");
    await touch("touchStart", [
      [cx - 20, cy],
      [cx + 20, cy],
    ]);
    for (let i = 1; i <= 4; i++)
      await touch("touchMove", [
        [cx - 20 - 5 * i, cy],
        [cx + 20 + 5 * i, cy],
      ]);
    await touch("touchEnd", []);
    // fingers twice as far apart: twice as near
    await expect.poll(async () => (await wide()) / before).toBeCloseTo(2, 0);
    await page.getByLabel(/^the two .* marks are apart/).fill("200");
    await page.keyboard.press("Enter");
    await page.locator("[data-act=photo-lock]").tap();
    await page.locator(".own-under").waitFor();
    await pullBy('[data-grip="lowerOuter"]', -12, -6);
    await expect.poll(() => told(page, "lowerOuter.out")).toMatch(/^traced \u00b1/);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
