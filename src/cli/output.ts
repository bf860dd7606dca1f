import {
  accessSync,
  closeSync,
  constants,
  fsyncSync,
  lstatSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  type Stats,
  statSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { shownName } from "../scenario/words.ts";
import { type InputFile, typedPath } from "./files.ts";
import { Refusal } from "./refusal.ts";
import { why } from "./why.ts";

/** A file that will be written: found fit before the work, so that no work is done in vain. */
export interface Output {
  /** as given */
  file: string;
  /** where it really lies, links followed */
  path: string;
  /** what is there now; null: nothing */
  there: Stats | null;
}

/**
 * Looks at where an output is to go: its folder must be there and writable, and it must be no folder, none of the files that are read
 * and none of the other outputs, under whatever name or link. Throws a refusal otherwise.
 */
export function planOutput(option: string, file: string, inputs: readonly InputFile[], otherOutputs: readonly Output[]): Output {
  const refuse = (words: string): Refusal => new Refusal(`--${option} ${shownName(file)}: ${words}.`);
  const there = statOf(typedPath(file));
  let path: string;
  try {
    if (there === null && isLink(typedPath(file))) throw refuse("this is a link to something that is not there");
    path = there ? realpathSync(typedPath(file)) : join(realpathSync(dirname(typedPath(file))), basename(typedPath(file)));
    if (there?.isDirectory()) throw refuse("cannot be written, it is a folder");
    if (!statOf(dirname(path))?.isDirectory()) throw refuse(`cannot be written, ${shownName(dirname(path))} is no folder`);
    if (there) accessSync(path, constants.W_OK);
    if (!there || there.isFile()) accessSync(dirname(path), constants.W_OK | constants.X_OK);
  } catch (e) {
    throw e instanceof Refusal ? e : refuse(`cannot be written, ${why(e, "the folder does not exist")}`);
  }
  const input = inputs.find((i) => there !== null && isSame(there, statOf(i.path)));
  if (input)
    throw refuse(
      `this is the ${"scenario" in input ? "scenario" : "bench test"} ${shownName(input.file)} itself, which is never overwritten; give another name`,
    );
  const other = otherOutputs.find((o) => o.path === path || (there?.isFile() && isSame(there, o.there)));
  if (other) throw refuse(`this is the same file as ${shownName(other.file)}; give another name`);
  return { file, path, there };
}

function statOf(path: string): Stats | null {
  try {
    return statSync(path);
  } catch {
    return null;
  }
}

const isSame = (a: Stats, b: Stats | null): boolean => b !== null && a.dev === b.dev && a.ino === b.ino;

function isLink(path: string): boolean {
  try {
    return lstatSync(path).isSymbolicLink();
  } catch {
    return false;
  }
}

/** Writes an output whole or not at all: beside its place first, onto the disk, then over to its name. Throws a refusal. */
export function writeOutput(output: Output, text: string): { file: string; bytes: number } {
  try {
    // a device or pipe has no place beside it
    if (output.there && !output.there.isFile()) writeFileSync(output.path, text);
    else writeWhole(output.path, text, output.there?.mode);
  } catch (e) {
    throw new Refusal(`${shownName(output.file)}: cannot be written, ${why(e, "its folder is gone")}.`);
  }
  return { file: output.file, bytes: Buffer.byteLength(text) };
}

/** Puts a text in place of a file in one step: whoever reads it finds the old one or the new one, whatever happens on the way. */
export function writeWhole(path: string, text: string, mode = 0o666): void {
  const beside = join(dirname(path), `.${basename(path).slice(0, 80)}.${process.pid}.new`);
  try {
    const fd = openSync(beside, "w", mode & 0o777);
    try {
      writeFileSync(fd, text);
      fsyncSync(fd);
    } finally {
      closeSync(fd);
    }
    renameSync(beside, path);
  } catch (e) {
    rmSync(beside, { force: true });
    throw e;
  }
}
