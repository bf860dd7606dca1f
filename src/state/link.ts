import type { Doc } from "./document.ts";

/** Share link: the document itself, deflated and in letters that an address can hold. */
const MARK = "w1.";

async function through(bytes: Uint8Array, stream: CompressionStream | DecompressionStream): Promise<Uint8Array> {
  const out = new Blob([bytes as BlobPart]).stream().pipeThrough(stream as unknown as ReadableWritablePair<Uint8Array, Uint8Array>);
  return new Uint8Array(await new Response(out).arrayBuffer());
}

const toLetters = (bytes: Uint8Array): string => {
  let text = "";
  for (const b of bytes) text += String.fromCharCode(b);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
};

const fromLetters = (text: string): Uint8Array => Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));

export async function toHash(doc: Doc): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify({ a: doc.a, b: doc.b, load: doc.load }));
  return MARK + toLetters(await through(bytes, new CompressionStream("deflate-raw")));
}

export const isLink = (hash: string): boolean => hash.replace(/^#/, "").startsWith(MARK);

/** The plain value that a link holds, not yet checked; throws when the text is not such a link. */
export async function fromHash(hash: string): Promise<unknown> {
  const text = hash.replace(/^#/, "");
  if (!text.startsWith(MARK)) throw new Error("This is no Wheelstay link.");
  try {
    const bytes = await through(fromLetters(text.slice(MARK.length)), new DecompressionStream("deflate-raw"));
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    throw new Error("The link is cut short or changed; nothing was opened.");
  }
}
