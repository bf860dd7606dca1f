import { parseArgs } from "node:util";
import { quoted, shownText } from "../scenario/words.ts";
import type { Command, NumberOption, TextOption } from "./command.ts";
import { Refusal } from "./refusal.ts";

export interface Parsed {
  files: string[];
  json: boolean;
  help: boolean;
  values: Record<string, number>;
  texts: Record<string, string>;
  flags: Set<string>;
}

const NUMBER = /^[+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:e[+-]?\d+)?$/i;

/** Reads what follows a command's name. Throws a refusal that names what is wrong and what may stand there. */
export function parseCommand(command: Command, args: readonly string[]): Parsed {
  const options: Record<string, { type: "string" | "boolean"; short?: string }> = { json: { type: "boolean" }, help: { type: "boolean", short: "h" } };
  for (const n of [...command.numbers, ...(command.texts ?? [])]) options[n.flag] = { type: "string" };
  for (const f of command.flags ?? []) options[f.flag] = { type: "boolean" };
  const { tokens } = parseArgs({ args: joinNumbers(args, command), options, strict: false, allowPositionals: true, tokens: true });
  const parsed: Parsed = { files: [], json: false, help: false, values: {}, texts: {}, flags: new Set() };
  for (const token of tokens) {
    if (token.kind === "positional") parsed.files.push(token.value);
    if (token.kind !== "option") continue;
    const known = Object.hasOwn(options, token.name);
    if (!known) throw unknownOption(token.rawName, Object.keys(options));
    if (options[token.name]?.type === "boolean") {
      if (token.value !== undefined) throw new Refusal(`--${token.name} takes no value, but ${quoted(token.value)} was given.`);
      if (token.name === "json" || token.name === "help") parsed[token.name] = true;
      else parsed.flags.add(token.name);
      continue;
    }
    if (Object.hasOwn(parsed.values, token.name) || Object.hasOwn(parsed.texts, token.name)) throw new Refusal(`--${token.name} is given twice; allowed once.`);
    const number = command.numbers.find((n) => n.flag === token.name);
    if (number) parsed.values[token.name] = numberOf(number, token.value);
    else parsed.texts[token.name] = textOf(command.texts!.find((t) => t.flag === token.name)!, token.value);
  }
  if (parsed.json && parsed.flags.has("csv")) throw new Refusal("--json and --csv are both given; allowed one of them.");
  if (!parsed.help && !countFits(command, parsed.files.length)) throw wrongCount(command, parsed.files.length);
  return parsed;
}

/** A number below zero after an option belongs to it, though it starts like an option. */
function joinNumbers(args: readonly string[], command: Command): string[] {
  const out: string[] = [];
  for (const arg of args) {
    const before = out[out.length - 1];
    const takes = before !== undefined && command.numbers.some((n) => before === `--${n.flag}`);
    if (takes && arg.startsWith("-") && NUMBER.test(arg)) out[out.length - 1] = `${before}=${arg}`;
    else out.push(arg);
  }
  return out;
}

function numberOf(o: NumberOption, text: string | undefined): number {
  const unit = o.unit === "" ? "" : ` ${o.unit}`;
  const allowed = `allowed ${o.min} to ${o.max}${unit}`;
  if (text === undefined) throw new Refusal(`--${o.flag} has no value; ${allowed}.`);
  if (!NUMBER.test(text.trim())) throw new Refusal(`--${o.flag} is ${quoted(text)}, which is not a number; ${allowed}.`);
  const value = Number(text.replace(",", "."));
  if (o.whole && !Number.isInteger(value)) throw new Refusal(`--${o.flag} is ${quoted(text)}, which is not a whole number; ${allowed}.`);
  if (!(value >= o.min && value <= o.max)) throw new Refusal(`--${o.flag} is ${shownText(text)}${unit}; ${allowed}.`);
  return value;
}

function textOf(o: TextOption, text: string | undefined): string {
  const wanted = o.oneOf ? `allowed ${o.oneOf.join(", ")}` : `${o.valueName} is wanted`;
  if (text === undefined || text === "") throw new Refusal(`--${o.flag} has no value; ${wanted}.`);
  if (o.oneOf && !o.oneOf.includes(text)) throw new Refusal(`--${o.flag} is ${quoted(text)}; ${wanted}.`);
  return text;
}

function unknownOption(raw: string, known: readonly string[]): Refusal {
  return new Refusal(`${shownText(raw)} is not a known option; allowed ${known.map((k) => `--${k}`).join(", ")}.`);
}

const countFits = (command: Command, count: number): boolean => count === command.files || (command.before !== undefined && count === command.files + 1);

function wrongCount(command: Command, given: number): Refusal {
  const wanted = `${command.files === 1 ? "one scenario file" : "two scenario files"}${command.before === undefined ? "" : `, and may take a ${command.before.toLowerCase()} file before`}`;
  return new Refusal(`${command.name} needs ${wanted}, ${given === 0 ? "none is" : given === 1 ? "one is" : `${given} are`} given.\n${usageLine(command)}`);
}

export function usageLine(command: Command): string {
  const numbers = [...(command.texts ?? []), ...command.numbers].map((n) => ` [--${n.flag} ${n.valueName}]`).join("");
  const flags = (command.flags ?? []).map((f) => ` [--${f.flag}]`).join("");
  return `usage: npm run -s wheelstay -- ${command.name}${command.before === undefined ? "" : ` [${command.before}]`}${" FILE".repeat(command.files)}${numbers}${flags} [--json]`;
}
