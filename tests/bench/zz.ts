import { benchPage } from "./page.ts";
export async function main() { await benchPage(); }
