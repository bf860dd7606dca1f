/** How many px a picture has, read off the first bytes of its file, before any work is spent on it. */
export interface PictureSize {
  widthPx: number;
  heightPx: number;
}

const at16 = (b: Uint8Array, i: number): number => (b[i]! << 8) | b[i + 1]!;
const le16 = (b: Uint8Array, i: number): number => b[i]! | (b[i + 1]! << 8);
const at32 = (b: Uint8Array, i: number): number => at16(b, i) * 65536 + at16(b, i + 2);
const is = (b: Uint8Array, i: number, text: string): boolean => [...text].every((c, k) => b[i + k] === c.charCodeAt(0));

/** JPEG: the frame header (SOF) of ITU-T T.81, table B.2, found by stepping from marker to marker. */
function jpeg(b: Uint8Array): PictureSize | null {
  for (let i = 2; i + 9 < b.length; ) {
    if (b[i] !== 0xff) return null;
    const marker = b[i + 1]!;
    if (marker === 0xff) {
      i++;
      continue;
    }
    const frame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (frame) return { widthPx: at16(b, i + 7), heightPx: at16(b, i + 5) };
    i += 2 + at16(b, i + 2);
  }
  return null;
}

/** WebP: the three kinds of chunk of RFC 9649, section 2. */
function webp(b: Uint8Array): PictureSize | null {
  if (is(b, 12, "VP8X")) return { widthPx: 1 + le16(b, 24) + b[26]! * 65536, heightPx: 1 + le16(b, 27) + b[29]! * 65536 };
  if (is(b, 12, "VP8 ")) return { widthPx: le16(b, 26) & 0x3fff, heightPx: le16(b, 28) & 0x3fff };
  if (is(b, 12, "VP8L")) {
    const bits = le16(b, 21) + le16(b, 23) * 65536;
    return { widthPx: 1 + (bits & 0x3fff), heightPx: 1 + ((bits >>> 14) & 0x3fff) };
  }
  return null;
}

/** Size by the file's own header; null where it is of no kind known here, or cut short. */
export function pictureSize(b: Uint8Array): PictureSize | null {
  if (b.length < 30) return null;
  // PNG: the IHDR chunk comes first (W3C, PNG specification, 11.2.1)
  if (is(b, 1, "PNG")) return is(b, 12, "IHDR") ? { widthPx: at32(b, 16), heightPx: at32(b, 20) } : null;
  if (b[0] === 0xff && b[1] === 0xd8) return jpeg(b);
  // GIF89a specification, section 18
  if (is(b, 0, "GIF8")) return { widthPx: le16(b, 6), heightPx: le16(b, 8) };
  if (is(b, 0, "RIFF") && is(b, 8, "WEBP")) return webp(b);
  return null;
}
