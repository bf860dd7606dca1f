import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { analyze } from "../../src/core/analyze.ts";
import { answered, startedCar } from "../../src/scenario/own-car/own-car.ts";
import { answersOn } from "../support/paper-sheets.ts";
import { bothThemes, lean, type Site, startSite, undoName } from "./site.ts";

let site: Site;
beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

type Px = readonly [number, number];
const FIRST_G = 0.6;

/** Goes on with Tab until a control has the focus, as a hand without a mouse does. */
async function tabTo(page: Page, selector: string): Promise<void> {
  for (let i = 0; i < 160; i++) {
    if (await page.evaluate((s) => document.activeElement?.matches(s) ?? false, selector)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`${selector} is not reached by Tab`);
}
const textOf = async (page: Page, selector: string): Promise<string> => (await page.locator(selector).first().textContent()) ?? "";
const told = (page: Page, key: string): Promise<string> => textOf(page, `[data-question="${key}"] .own-known`);
/** The lean that the page tells, °. */
const firstAnswer = async (page: Page): Promise<number> => Number((await textOf(page, ".own-number")).replace("°", "").replace("−", "-"));
const value = (page: Page, key: string): Promise<string> => page.locator(`[data-answer="${key}"]`).inputValue();
const begin = async (page: Page): Promise<void> => {
  await page.locator("[data-act=own-car]").click();
  await page.locator("[data-act=own-start]").click();
  await page.locator('[data-answer="carMassKg"]').waitFor();
};
const middle = async (page: Page, selector: string): Promise<Px> => {
  const box = await page.locator(selector).boundingBox();
  if (!box) throw new Error(`${selector} is not on the page`);
  return [box.x + box.width / 2, box.y + box.height / 2];
};
async function pull(page: Page, selector: string, to: Px): Promise<void> {
  const [x, y] = await middle(page, selector);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move((x + to[0]) / 2, (y + to[1]) / 2);
  await page.mouse.move(to[0], to[1]);
  await page.mouse.up();
}

describe("from an empty car to a first answer", () => {
  it("with pins and weight alone, by keyboard alone; it comes back, and goes back step by step", async () => {
    const { page, complaints } = await site.open();
    await tabTo(page, "[data-act=own-car]");
    await page.keyboard.press("Enter");
    await tabTo(page, "[data-act=own-start]");
    await page.keyboard.press("Enter");
    const answers = answersOn("pins-and-weight");
    await tabTo(page, '[data-answer="carMassKg"]');
    await page.keyboard.type("4000 g");
    await page.keyboard.press("Enter");
    await expect.poll(() => value(page, "carMassKg")).toBe("4");
    expect(await textOf(page, ".own-answer-head")).toBe("Still wanted for an answer");
    await page.keyboard.press("Shift+Tab");
    await tabTo(page, "[data-step=pins]");
    await page.keyboard.press("Enter");
    const { carMassKg: _, ...pins } = answers;
    for (const [key, mm] of Object.entries(pins)) {
      await tabTo(page, `[data-answer="${key}"]`);
      await page.keyboard.type(String(mm));
      await page.keyboard.press("Enter");
    }
    // the same car worked out here
    const found = analyze(answered(startedCar(), answers), { lateralG: FIRST_G, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!found.ok) throw new Error(found.reason.message);
    await expect.poll(() => firstAnswer(page)).toBeCloseTo(found.report.right.camberDeg, 1);

    // the same places in holes of 8 mm
    await tabTo(page, ".own-units .word-switch:last-child");
    await page.keyboard.press("Enter");
    await expect.poll(() => value(page, "upperInner.up")).toBe("9.5");
    await page.keyboard.press("Shift+Tab");
    await page.keyboard.press("Enter");

    // an arrow key moves a pin by half a hole
    await tabTo(page, '[data-grip="upperInner"]');
    await page.keyboard.press("ArrowUp");
    await expect.poll(() => value(page, "upperInner.up")).toBe("80");
    expect(await undoName(page)).toBe("Undo: upper inner pin to 56.0 mm out, 80.0 mm up");

    // away and back, and after a reload, it is where it was
    await page.locator("[data-view=axle]:visible").click();
    await page.waitForTimeout(300);
    await page.reload();
    await page.waitForSelector("html[data-ready]", { state: "attached" });
    await page.locator("[data-act=own-car]").click();
    await expect.poll(() => value(page, "upperInner.up")).toBe("80");
    await page.locator("[data-step=size]").click();
    expect(await told(page, "carMassKg")).toBe("told");
    expect(await told(page, "axleMassKg")).toBe("guess");

    // ten answers and the start, back one by one
    for (let n = 0; n < 11; n++) await page.locator(".bar .undo").first().click();
    expect(await undoName(page)).toBe("Nothing to undo");
    expect(await textOf(page, ".design-tab.a .design-name")).toBe("Heavy car, forked arms");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("with everything on a sheet filled in, it is the sheet's car", async () => {
    const { page, complaints } = await site.open();
    await begin(page);
    const answers = answersOn("small-all-told");
    const steps = ["size", "wheels", "pins", "arms", "springs", "hub", "drive"];
    for (const step of steps) {
      await page.locator(`[data-step=${step}]`).click();
      // a choice brings up the questions that go with it
      for (const kind of ["select", "input"])
        for (const [key, v] of Object.entries(answers)) {
          const field = page.locator(`${kind}[data-answer="${key}"]:visible`);
          if ((await field.count()) === 0) continue;
          if (kind === "select") await field.selectOption(String(v));
          else {
            await field.fill(String(v));
            await field.press("Enter");
          }
        }
    }
    const found = analyze(answered(startedCar(), answers), { lateralG: FIRST_G, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!found.ok) throw new Error(found.reason.message);
    await expect.poll(() => firstAnswer(page)).toBeCloseTo(found.report.right.camberDeg, 1);
    expect(await textOf(page, "[data-step=pins] small")).toBe("8 of 8 told");
    await page.locator("[data-act=own-to-axle]").click();
    expect(await lean(page)).toBeCloseTo(found.report.right.camberDeg, 1);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("by thumb at 390 by 844: a ring is pulled, a weight on the spring tells its rate, and an answer is left out again", async () => {
    const { page, complaints } = await site.open({ viewport: { width: 390, height: 844 }, hasTouch: true });
    await page.locator("[data-act=own-car]").tap();
    await page.locator("[data-act=own-start]").tap();
    await page.locator("[data-step=pins]").tap();
    const before = Number((await page.locator('[data-answer="lowerOuter.out"]').getAttribute("placeholder"))?.replace("\u2248 ", ""));
    const session = await page.context().newCDPSession(page);
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", at: readonly Px[]): Promise<unknown> =>
      session.send("Input.dispatchTouchEvent", { type, touchPoints: at.map(([x, y]) => ({ x, y })) });
    const [x, y] = await middle(page, '[data-grip="lowerOuter"]');
    await touch("touchStart", [[x, y]]);
    for (let i = 1; i <= 6; i++) await touch("touchMove", [[x - 3 * i, y]]);
    await touch("touchEnd", []);
    await expect.poll(() => told(page, "lowerOuter.out")).toBe("told");
    const after = Number(await value(page, "lowerOuter.out"));
    expect(after).toBeLessThan(before - 4);
    expect(after % 4).toBe(0);
    await page.locator('[data-question="lowerOuter.out"] .own-known').tap();
    await expect.poll(() => told(page, "lowerOuter.out")).toBe("guess");

    await page.locator("[data-step=springs]").tap();
    await page.locator("[data-sink=mass]").fill("0,5");
    await page.locator("[data-sink=mm]").fill("3.5");
    await page.keyboard.press("Enter");
    // by hand: 0.5 · 9.80665 / 3.5 = 1.401 N/mm, and half a mm of 3.5 is ± 0.2
    await expect.poll(async () => Number(await value(page, "springRateNPerMm"))).toBeCloseTo(1.401, 3);
    expect(await told(page, "springRateNPerMm")).toMatch(/^sank 3.5 mm under 0.5 kg \u00b10.2$/);
    for (const width of [320, 390]) {
      await page.setViewportSize({ width, height: 844 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
    }
    expect(await bothThemes(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
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
});
