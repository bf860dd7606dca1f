import { describe, expect, it } from "vitest";
import { pictureSize } from "../../../src/pages/own-car/photo/size.ts";

/** Headers by hand, byte for byte after the standards that each row names; what follows them does not matter. */
const bytes = (hex: string): Uint8Array => Uint8Array.from([...Buffer.from(hex.replace(/\s/g, ""), "hex"), ...new Array(40).fill(0)]);

describe("the size of a picture by its header", () => {
  it.each([
    ["PNG (W3C, 11.2.1)", "89504e470d0a1a0a 0000000d 49484452 00000fa0 00000bb8 08060000", 4000, 3000],
    // APP0 of 16 bytes, then a progressive frame (SOF2): length 17, 8 bit, height 1080 = 0438, width 1920 = 0780
    ["JPEG (ITU-T T.81, B.2)", "ffd8 ffe00010 4a46494600010100000100010000 ffc20011 08 0438 0780 03", 1920, 1080],
    ["JPEG with a filling byte and a table before", "ffd8 ff ffc40004 0000 ffc00011 08 0064 00c8 03", 200, 100],
    ["GIF (89a, 18)", "474946383961 4001 c800", 320, 200],
    ["WebP, extended (RFC 9649, 2.7)", "52494646 00000000 57454250 56503858 0a000000 00000000 9f0f00 b70b00", 4000, 3000],
    ["WebP, lossy", "52494646 00000000 57454250 56503820 00000000 000000 9d012a 8002 e001", 640, 480],
    // lossless: 2f, then 14 bits of width - 1 = 99 and 14 bits of height - 1 = 49: 49 · 16384 + 99 = 802915 = 0x000c4063
    ["WebP, lossless", "52494646 00000000 57454250 5650384c 00000000 2f 63400c00", 100, 50],
  ])("%s", (_, hex, widthPx, heightPx) => {
    expect(pictureSize(bytes(hex))).toEqual({ widthPx, heightPx });
  });

  it.each([
    ["nothing", ""],
    ["words", Buffer.from("this is a letter").toString("hex")],
    ["a JPEG whose markers are lost", "ffd8 0102030405060708090a0b0c"],
    ["a PNG without its first chunk", "89504e470d0a1a0a 0000000d 54455854 00000fa0 00000bb8"],
  ])("none of %s", (_, hex) => {
    expect(pictureSize(bytes(hex))).toBeNull();
  });
});
