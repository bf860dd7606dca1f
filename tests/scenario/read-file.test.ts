import { readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { CAPS } from "../../src/scenario/caps.ts";
import { type Chosen, readChosen, textOfBytes } from "../../src/scenario/read-file.ts";
import { SHIPPED, shippedText } from "../support/shipped.ts";

const bytes = (letters: string): Uint8Array => Uint8Array.from(letters, (c) => c.charCodeAt(0));
const messageOf = (b: Uint8Array, name = "car.json"): string | null => {
  const r = textOfBytes(b, name);
  return r.ok ? null : r.message;
};
const file = (name: string, content: Uint8Array | null, size = content?.length ?? 0): Chosen => ({
  file: { name, size, arrayBuffer: () => (content ? Promise.resolve(content.slice().buffer) : Promise.reject(new DOMException("gone", "NotFoundError"))) },
  isFolder: false,
});

describe("the bytes of a file", () => {
  it("of every shipped scenario are its text", () => {
    for (const name of SHIPPED) expect(textOfBytes(new TextEncoder().encode(shippedText(name)), name)).toEqual({ ok: true, text: shippedText(name) });
  });

  it("may be UTF-16 with its mark, as some editors write it", () => {
    expect(textOfBytes(bytes("\xff\xfe{\0}\0"), "car.json")).toEqual({ ok: true, text: "{}" });
    expect(textOfBytes(bytes("\xfe\xff\0{\0}"), "car.json")).toEqual({ ok: true, text: "{}" });
  });

  it("of a real picture and a real packed file say what they are", () => {
    expect(messageOf(readFileSync(new URL("../../.docs/axle.png", import.meta.url)), "axle.png")).toBe("axle.png: this is a picture, not a Wheelstay file.");
    expect(messageOf(gzipSync(shippedText("heavy-forked.json")))).toBe("car.json: this is a packed file (gzip), not a Wheelstay file.");
  });

  // beginnings as the standards of these formats print them: ITU-T T.81 (JPEG), GIF89a, ISO 32000-1 (PDF), APPNOTE 4.3.7 (ZIP), RFC 9649 (WebP), ISO 14496-12
  it.each([
    ["\xff\xd8\xff\xe0\0\x10JFIF", "a picture"],
    ["GIF89a\x01\0", "a picture"],
    ["RIFF\x24\0\0\0WEBPVP8 ", "a picture"],
    ["\0\0\0\x18ftypheic\0\0\0\0", "a picture"],
    ["\0\0\0\x18ftypmp42\0\0\0\0", "a film"],
    ["%PDF-1.7\n", "a PDF"],
    ["PK\x03\x04\x14\0", "a ZIP archive or an office file"],
    ["<!DOCTYPE html>", "a web page"],
  ])("that begin with %j say what they are", (beginning, kind) => {
    expect(messageOf(bytes(beginning))).toBe(`car.json: this is ${kind}, not a Wheelstay file.`);
  });

  it("that are none of these but no text either, or nothing, or too many, say so", () => {
    expect(messageOf(bytes("{\xff\xfe}"))).toBe("car.json: this is no text (UTF-8), so not a Wheelstay file.");
    expect(messageOf(bytes(""))).toBe("car.json: this file is empty.");
    expect(messageOf(new Uint8Array(CAPS.fileBytes + 1))).toBe("car.json: it is larger than 5200 kB, more than a scenario can have.");
    expect(messageOf(bytes("%PDF-"), "a\u001b[2J.pdf")).toBe("a\\u001b[2J.pdf: this is a PDF, not a Wheelstay file.");
  });
});

describe("what was chosen or dropped", () => {
  const good = file("car.json", bytes("{}"));

  it("as one file is read", async () => {
    expect(await readChosen([good])).toEqual({ ok: true, text: "{}", name: "car.json" });
  });

  it.each<[string, Chosen[], string]>([
    ["two files", [good, good], "2 files at once: one scenario file at a time can be opened."],
    ["nothing", [], "That is no file; a scenario file can be opened."],
    ["a dragged text", [{ file: null, isFolder: false }], "That is no file; a scenario file can be opened."],
    ["a folder", [{ ...good, isFolder: true }], "car.json: this is a folder; a scenario file can be opened."],
    [
      "a file that vanished",
      [file("gone.json", null, 10)],
      "gone.json: cannot be read; it was moved, changed or removed since it was chosen, or it is a folder.",
    ],
    ["a film, by its size alone", [file("film.json", null, 3e9)], "film.json: it is larger than 5200 kB, more than a scenario can have."],
  ])("as %s is a sentence", async (_, chosen, message) => {
    expect(await readChosen(chosen)).toMatchObject({ ok: false, message });
  });
});
