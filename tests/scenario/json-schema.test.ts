import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { scenarioJsonSchema, scenarioJsonSchemaText } from "../../src/scenario/json-schema.ts";
import { SHIPPED, shippedText } from "../support/shipped.ts";

interface Node {
  [key: string]: unknown;
}

/** Every number type of the schema with the path of its definition. */
function numbers(node: unknown, path = ""): [string, Node][] {
  if (typeof node !== "object" || node === null) return [];
  const own: [string, Node][] = (node as Node).type === "number" || (node as Node).type === "integer" ? [[path, node as Node]] : [];
  return [...own, ...Object.entries(node).flatMap(([k, v]) => numbers(v, `${path}/${k}`))];
}

describe("the published JSON Schema", () => {
  it("is the one that the code generates: run npm run schema after a change", () => {
    expect(readFileSync(new URL("../../scenarios/scenario.schema.json", import.meta.url), "utf8")).toBe(scenarioJsonSchemaText());
  });

  it("gives a description and both ends of the range for every number", () => {
    const bare = numbers(scenarioJsonSchema()).filter(
      ([path, n]) => !path.endsWith("/version") && (n.description === undefined || n.minimum === undefined || n.maximum === undefined),
    );
    expect(bare.map(([path]) => path)).toEqual([]);
    expect(numbers(scenarioJsonSchema()).length).toBeGreaterThan(100);
  });

  it("asks only for what has no default", () => {
    expect(scenarioJsonSchema().required).toEqual(["format", "version", "name", "corner", "body"]);
    expect(scenarioJsonSchema().additionalProperties).toBe(false);
  });

  it("accepts the shipped scenarios and refuses broken ones when it is read on its own", () => {
    const fromFile = z.fromJSONSchema(scenarioJsonSchema() as Parameters<typeof z.fromJSONSchema>[0]);
    for (const file of SHIPPED) {
      const data = JSON.parse(shippedText(file)) as { corner: { wheel: { radiusMm: number } } };
      expect(fromFile.safeParse(data).success, file).toBe(true);
      data.corner.wheel.radiusMm = 480;
      expect(fromFile.safeParse(data).success, file).toBe(false);
    }
  });
});
