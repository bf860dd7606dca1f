import { CAPS } from "../scenario/caps.ts";
import { readJson } from "../scenario/parse.ts";
import type { Doc } from "./document.ts";
import { type ReadDoc, readDoc } from "./read-doc.ts";

/**
 * Share link: the document itself, packed and in letters that an address can hold, behind a mark with the version of this packing.
 * Version 2 is gzip (RFC 1952), whose CRC-32 refuses what was changed on the way; version 1 was bare deflate without a checksum.
 */
const MARK = /^#?w(\d{1,6})\./;
const PACKINGS: Readonly<Record<string, CompressionFormat>> = { 1: "deflate-raw", 2: "gzip" };
const VERSION = 2;

const stream = (bytes: Uint8Array, through: CompressionStream | DecompressionStream): ReadableStream<Uint8Array> =>
  new Blob([bytes as BlobPart]).stream().pipeThrough(through as unknown as ReadableWritablePair<Uint8Array, Uint8Array>);

/** Reads a stream to its end; null as soon as it gives more than `most` bytes, whatever is still to come. */
async function bytesOf(from: ReadableStream<Uint8Array>, most: number): Promise<Uint8Array | null> {
  const reader = from.getReader();
  const parts: Uint8Array[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return new Uint8Array(await new Blob(parts as BlobPart[]).arrayBuffer());
    length += value.length;
    if (length > most) {
      await reader.cancel().catch(() => {});
      return null;
    }
    parts.push(value);
  }
}

const toLetters = (bytes: Uint8Array): string => {
  let text = "";
  for (const b of bytes) text += String.fromCharCode(b);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
};

const fromLetters = (text: string): Uint8Array => Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));

/** The link's part of an address, without the #. */
export async function toHash(doc: Doc): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify({ a: doc.a, b: doc.b, load: doc.load }));
  const packed = await new Response(stream(bytes, new CompressionStream(PACKINGS[VERSION]!))).arrayBuffer();
  return `w${VERSION}.${toLetters(new Uint8Array(packed))}`;
}

export const isLink = (hash: string): boolean => MARK.test(hash);

/** The document that a link holds, or why there is none: nothing is thrown, and nothing is unpacked beyond what a document may have. */
export async function openLink(hash: string): Promise<ReadDoc> {
  const no = (words: string): ReadDoc => ({ ok: false, lines: [`The link ${words}; nothing was opened.`] });
  const [mark, version] = MARK.exec(hash) ?? [];
  if (mark === undefined || version === undefined) return no("is no Wheelstay link");
  const packing = PACKINGS[version];
  if (packing === undefined) return no(`is of version ${version}, which this page does not know (it knows up to ${VERSION})`);
  if (hash.length > CAPS.linkLetters) return no(`has ${hash.length} letters, more than ${CAPS.linkLetters}`);
  let text: string;
  try {
    const bytes = await bytesOf(stream(fromLetters(hash.slice(mark.length)), new DecompressionStream(packing)), CAPS.unpackedBytes);
    if (bytes === null) return no("unpacks to more than two designs can have");
    text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return no("is cut short or changed");
  }
  const json = readJson(text, "the link");
  return json.ok ? readDoc(json.value, "the link") : no("is cut short or changed");
}
