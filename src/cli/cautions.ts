import { CAUTIONS } from "../view/cautions.ts";

export const cautionsText = (): string => ["CAUTIONS", ...CAUTIONS.map((c) => `- ${c}`)].join("\n");
