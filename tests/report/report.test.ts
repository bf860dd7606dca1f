import { beforeAll, describe, expect, it } from "vitest";
import { LIMIT_NAMES } from "../../src/core/analysis.ts";
import { analyze, buildBench } from "../../src/core/analyze.ts";
import { LIMITS } from "../../src/core/limits/records.ts";
import { safeSpeedOf } from "../../src/core/studies/safe-speed.ts";
import { G } from "../../src/core/units.ts";
import { type GivenParts, gatherReport, type ReportData, type ReportRequest, wholeReport } from "../../src/report/data.ts";
import { reportBody, reportHtml } from "../../src/report/html.ts";
import { reportCsv, reportObject } from "../../src/report/plain-data.ts";
import { summaryOf } from "../../src/report/summary.ts";
import { assumptions, loadWords } from "../../src/report/words.ts";
import { CAUTIONS } from "../../src/view/cautions.ts";
import { leaves } from "../../src/view/differences.ts";
import { expectAbs } from "../support/close.ts";
import { markupFaults, textOf } from "../support/markup.ts";
import { shipped } from "../support/shipped.ts";

const request = (over: Partial<ReportRequest> = {}): ReportRequest => ({
  scenario: shipped("heavy-forked.json"),
  b: shipped("heavy-straight.json"),
  load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 },
  caseName: "cornering 0.8 g",
  radiusM: 6,
  trackName: "car park",
  shock: 1,
  date: "2026-02-03",
  ...over,
});

function dataOf(r: ReportRequest, given: GivenParts = {}): ReportData {
  const g = wholeReport(r, given);
  if (!g.ok) throw new Error(g.reason.message);
  return g.data;
}

let forked: ReportData;
let uneven: ReportData;
beforeAll(() => {
  forked = dataOf(request());
  uneven = dataOf(
    request({ scenario: shipped("asymmetric.json"), b: null, load: { lateralG: -0.4, bumpLeftMm: 0, bumpRightMm: 0 }, caseName: null, shock: 1.5 }),
  );
});

describe("the summary", () => {
  it("sends to the test that narrows the safe speed most, with what it brings", () => {
    const row = { test: "wheelWeights", side: "both", minutes: 10, inputs: [{ key: "body.axleShare", sdNow: 0.03, sdAfter: 0.01, bandSdAlone: 0.2 }] } as const;
    // 0.25 and 0.2 m/s are 0.90 and 0.72 km/h
    const next = { bandSd: 0.25, rows: [{ ...row, inputs: [...row.inputs], bandSd: 0.2, narrower: 0.2, share: 0.3 }], beyondTests: [], bought: [] };
    expect(summaryOf({ ...forked, next }).bench).toMatch(
      /^The bench leads through it: “weight on each wheel” \(body, share of the weight .+\)\. It takes 10\u2009min; the safe speed's ± 0\.90 becomes ± 0\.72\u2009km\/h, 20 % narrower\.$/,
    );
    const hub = { ...next, rows: [{ ...next.rows[0]!, test: "hubPullOff" as const }] };
    expect(summaryOf({ ...forked, next: hub }).bench).toMatch(/^Pull wheels straight off their hubs.* It takes 10/);
  });

  it("says what gives first at which speed, the safe speeds, one change, one bench test and this car's cautions", () => {
    const told = summaryOf(forked);
    const safe = safeSpeedOf(buildBench(shipped("heavy-forked.json")), 6, { hand: "left" });
    const kmh = (safe.speedMps * 3.6).toFixed(1);
    expect(told.gives).toBe(`The hub lip gives first, from ${kmh}\u2009km/h (${safe.lateralG.toFixed(2)} g) in a left-hand curve of 6 m (car park).`);
    expect(told.safe).toContain(`car park (6 m) ${kmh}\u2009km/h; oval (12 m) `);
    const best = forked.changes!.results.reduce((a, b) => (b.buys.speedMps > a.buys.speedMps && b.breaks.length === 0 ? b : a));
    expect(told.change.toLowerCase()).toContain(best.change.title.toLowerCase());
    expect(told.change).toContain(`: safe speed ${kmh} → ${(best.outcome.safeSpeedMps * 3.6).toFixed(1)}\u2009km/h`);
    expect(told.bench).toMatch(/^Pull wheels straight off their hubs.*“wheel pulled off its hub”/);
    expect(told.cautions[0]).toMatch(/^Hub runs hot under this load: \d\d\d % of its mark/);
    expect(told.cautions.at(-1)).toContain("eye protection");
    expect(reportObject(forked)).toMatchObject({ summary: told });
    const page = reportBody(forked);
    for (const text of Object.values(told).flat()) expect(textOf(page.slice(0, page.indexOf("<h2")))).toContain(text.replace(/\s+/g, " "));
  });

  it("asks for no rebuild where the drive runs out first, nor for one that buys next to nothing", () => {
    const { base } = forked.changes!;
    const slow = { ...forked, changes: { ...forked.changes!, base: { ...base, reachableMps: base.safeSpeedMps / 2 } } };
    expect(summaryOf(slow).gives).toMatch(/^The drive runs out at .*, before anything gives: from /);
    expect(summaryOf(slow).change).toMatch(/^None: the drive runs out first/);
    const none = forked.changes!.results.filter((r) => r.buys.speedMps < 0.1);
    expect(summaryOf({ ...forked, changes: { ...forked.changes!, results: none } }).change).toMatch(/^None: no single change/);
    expect(summaryOf({ ...forked, changes: null }).gives).toContain("no steady position at rest");
  });
});

describe("what a report is made of", () => {
  it("is what the core tells, at the load and on the curve asked for", () => {
    const own = analyze(shipped("heavy-forked.json"), request().load, { radiusM: 6 });
    if (!own.ok) throw new Error("no answer");
    expect(forked.a.report).toEqual(own.report);
    expectAbs((forked.speedKmh / 3.6) ** 2, 0.8 * G * 6, 1e-9, "v², m²/s²");
    const safe = safeSpeedOf(buildBench(shipped("heavy-forked.json")), 6, { hand: "left" });
    expectAbs(forked.changes!.base.safeSpeedMps, safe.speedMps, 1e-6, "m/s");
  });

  it("looks at the other hand only where the sides differ", () => {
    expect([forked.alike, forked.otherMap, forked.hand]).toEqual([true, null, "left"]);
    expect([uneven.alike, uneven.hand, uneven.map.options.hand, uneven.otherMap?.options.hand]).toEqual([false, "right", "right", "left"]);
    expect(uneven.bMap).toBeNull();
    expect(forked.bMap?.options.hand).toBe("left");
  });

  it("takes parts that are worked out already, and tells how far it is", () => {
    const run = gatherReport(request(), { map: forked.map, bMap: forked.bMap!, changes: forked.changes });
    const shares: number[] = [];
    let step = run.next();
    while (!step.done) {
      shares.push(step.value.done);
      step = run.next();
    }
    expect(shares.length).toBeGreaterThan(2);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(step.value.ok && step.value.data.map).toBe(forked.map);
  });

  it("gives the reason where the load has no answer, and goes on without B where only B has none", () => {
    const slippery = { ...shipped("heavy-straight.json") };
    slippery.corner = { ...slippery.corner, tyre: { ...slippery.corner.tyre, friction: 0.3 } };
    const none = wholeReport(request({ scenario: slippery, b: null }));
    expect(none.ok ? "answer" : none.reason.kind).toBe("slides");
    const d = dataOf(request({ b: slippery }), { map: forked.map, changes: forked.changes });
    expect([d.b, typeof d.bReason]).toEqual([null, "string"]);
    const body = reportBody(d);
    expect(textOf(body)).toContain("B has no answer at this load");
    expect(body).not.toContain("A against B");
  });

  it("says the load in words", () => {
    expect(loadWords({ lateralG: -0.4, bumpLeftMm: 2, bumpRightMm: 0 })).toBe(
      "cornering 0.40 g, right-hand curve, left wheel outside, road 2 mm up under the left wheel",
    );
    expect(loadWords({ lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 })).toBe("straight on, level road");
  });
});

describe("the printed page", () => {
  it("is one file: no code, nothing from elsewhere, no styles in elements", () => {
    for (const d of [forked, uneven]) {
      const html = reportHtml(d);
      expect(markupFaults(html)).toEqual([]);
      expect(html).not.toMatch(/<script|<iframe|javascript:|@import|https?:\/\/|\ssrc=|\sstyle=/);
      expect(html).toMatch(/@page\{margin/);
      expect(html.match(/<h1>/g)).toHaveLength(1);
    }
  });

  it("tells every limit that there is, every caution and every assumption", () => {
    const text = textOf(reportBody(forked));
    for (const name of LIMIT_NAMES) if (forked.a.report.limits.some((l) => l.name === name)) expect(text).toContain(LIMITS[name].words.row);
    for (const words of [...CAUTIONS, ...assumptions(forked)]) expect(text).toContain(words);
    expect(text).toContain("Axle report of 2026-02-03");
    expect(text).toContain(`${(3.6 * forked.changes!.base.safeSpeedMps).toFixed(1)} km/h`);
  });

  it("tells both sides and both hands of an uneven car, and a shock where there is one", () => {
    const text = textOf(reportBody(uneven));
    expect(text).toMatch(/Left-hand curves, road shock ×1\.5/);
    expect(text).toMatch(/Right-hand curves, road shock ×1\.5/);
    expect(text).not.toContain("Both sides alike");
    expect(text).toContain("Road shock ×1.5: forces from the road");
  });

  it("takes names of the user as text", () => {
    const s = { ...shipped("heavy-forked.json"), name: '<b onclick="x">&', teaches: "</p><script>1</script>" };
    const html = reportHtml({ ...forked, request: { ...forked.request, scenario: s, b: { ...s } } });
    expect(markupFaults(html)).toEqual([]);
    expect(html).not.toMatch(/<script|<b onclick/);
  });

  it("is the same for the same question", () => {
    // the changes are the dear part; tests/cli/studies.test.ts holds two reports with changes of their own against each other
    expect(reportHtml(dataOf(request(), { changes: forked.changes }))).toBe(reportHtml(forked));
  });
});

describe("what differs", () => {
  it("is told value by value, also where only one design has the group", () => {
    const group = {
      path: "left",
      name: "left side only",
      a: '{"hub":{"staticCamberDeg":-0.5},"tyre":{"crownRadiusMm":null}}',
      b: "–",
      aWords: "",
      bWords: "–",
    };
    const minus = "\u2212";
    expect(leaves(group)).toEqual([
      {
        path: "left.hub.staticCamberDeg",
        name: "left side only: hub, lean built in (static camber), °",
        a: "-0.5",
        b: "–",
        aWords: `${minus}0.5`,
        bWords: "–",
      },
      { path: "left.tyre.crownRadiusMm", name: "left side only: tyre, crown radius across the tread, mm", a: "none", b: "–", aWords: "flat", bWords: "–" },
    ]);
    const single = { path: "body.cgHeightMm", name: "x", a: "1", b: "2", aWords: "1", bWords: "2" };
    expect(leaves(single)).toEqual([single]);
    const both = leaves({ ...single, path: "corner.spring.droopStop", a: '{"lengthMm":66}', b: '{"rateNPerMm":60}' });
    expect(both.map((d) => [d.path, d.a, d.b])).toEqual([
      ["corner.spring.droopStop.lengthMm", "66", "–"],
      ["corner.spring.droopStop.rateNPerMm", "–", "60"],
    ]);
  });
});

describe("the other forms", () => {
  it("JSON holds the design, the answers and no value that is not a number", () => {
    for (const d of [forked, uneven]) {
      const bad: string[] = [];
      const text = JSON.stringify(reportObject(d), (key, v: unknown) => {
        if (typeof v === "number" && Number.isNaN(v)) bad.push(key);
        return v;
      });
      expect(bad).toEqual([]);
      const back = JSON.parse(text) as {
        scenario: unknown;
        map: { worst: number[][]; radiiM: number[]; speedsMps: number[] };
        changes: { results: unknown[] };
      };
      expect(back.scenario).toEqual(JSON.parse(JSON.stringify(d.request.scenario)));
      expect([back.map.worst.length, back.map.worst[0]!.length]).toEqual([back.map.speedsMps.length, back.map.radiiM.length]);
      expect(back.changes.results).toHaveLength(d.changes!.results.length);
    }
  });

  /** Splits a line of a table with commas; quotes hold commas and doubled quotes. */
  const fields = (line: string): string[] => [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map((m) => m[1]?.replace(/""/g, '"') ?? m[2]!);

  it("CSV has seven fields on every line, and its lean by part adds up", () => {
    const rows = reportCsv(forked).trimEnd().split("\n").map(fields);
    for (const r of rows) expect(r).toHaveLength(7);
    const sum = rows.filter((r) => r[0] === "lean by part" && r[2] === "A right").reduce((s, r) => s + Number(r[5]), 0);
    const camber = Number(rows.find((r) => r[0] === "wheel" && r[1] === "camber" && r[2] === "A right")![5]);
    // seven figures are written of each of some fifty values
    expectAbs(sum, camber, 1e-5, "camber, °");
    expect(rows.some((r) => r[0] === "limit" && r[2] === "B right")).toBe(true);
    expect(rows.filter((r) => r[0] === "change buys" && r[6] === "km/h")).toHaveLength(forked.changes!.results.length);
  });

  it("CSV never hands a formula to a table program", () => {
    const s = shipped("heavy-forked.json");
    const d = {
      ...forked,
      changes: { ...forked.changes!, results: forked.changes!.results.map((r) => ({ ...r, change: { ...r.change, title: '=HYPERLINK("x"),1' } })) },
    };
    const line = reportCsv({ ...d, request: { ...d.request, scenario: s } })
      .split("\n")
      .find((l) => l.includes("HYPERLINK"))!;
    expect(fields(line)[1]).toBe(`'=HYPERLINK("x"),1`);
    expect(fields(line)).toHaveLength(7);
  });
});

describe("a load that pushes", () => {
  // by hand: 0.4 g on 6 m is √(0.4·9.80665·6) = 4.85138 m/s; a motor of 120 N·mm through 12:40 at 0.88 on 48 mm pushes 7.33333 N standing and none
  // at 7.238229 m/s: half of 7.33333·(1 − 4.85138/7.238229) = 1.20911 N
  const pushed = (over: Partial<ReportRequest> = {}): ReportData =>
    dataOf(request({ load: { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0, throttle: 0.5 }, ...over }), {
      map: forked.map,
      bMap: forked.bMap!,
      changes: forked.changes,
    });

  it("is told with its throttle, and wheel by wheel along the road, on paper and in both tables", () => {
    const d = pushed();
    const text = textOf(reportBody(d));
    expect(markupFaults(reportBody(d))).toEqual([]);
    expect(text).toContain("right wheel outside, level road, throttle 50 %.");
    expect(text).toMatch(/Under throttle 50 %; \+ is forwards.*push asked for, N\s*\+1\.2\s*\+1\.2/s);
    expectAbs(Number(/along the road,push that reaches the road,A left,,,([^,]+),N/.exec(reportCsv(d))![1]), 1.20911, 1e-4, "N");
    const object = reportObject(d) as { analysis: { left: { push: { askedN: number } } }; load: { throttle: number } };
    expectAbs(object.analysis.left.push.askedN, 1.20911, 1e-5, "N");
    expect(object.load.throttle).toBe(0.5);
  });

  it("names what locks", () => {
    const d = pushed({ load: { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0, brakeG: 2 } });
    const text = textOf(reportBody(d));
    // 2 g of 5 kg on four wheels: 24.517 N each, more than grip holds
    expect(text).toMatch(/braking 2\.00 g.*push asked for, N\s*−24\.5\s*−24\.5.*push that reaches the road, N\s*−\d+\.\d, locks/s);
  });
});

describe("a load that pushes nothing", () => {
  it("is set against full throttle standing, and both that carry motor and brake are in the building list", () => {
    const text = textOf(reportBody(forked));
    expect(text).toMatch(/This load pushes nothing along the road\..*push on the wheel, N\s*\+7\.3/s);
    expect(text).toMatch(/what carries the motor or the last gear stage\s*the body, by a shaft/);
    expect(text).toMatch(/what carries the brake\s*the body, by a shaft/);
  });

  it("tells the safe speed by how the curve is driven, and the worst", () => {
    const told = (d: ReportData): string => textOf(reportBody(d));
    expect(told(forked)).toContain("However it is driven, the same speed is safe.");
    const weak = structuredClone(shipped("heavy-straight.json"));
    weak.limits.wheelShiftMm = 1;
    const d = dataOf(request({ scenario: weak, b: null }), { map: forked.map, changes: forked.changes });
    // its wheels shift 1.5 mm at the hardest push
    expect(told(d)).toMatch(/full throttle \(the worst\)\s*0\.0\s*0\.00/);
    expect(told(d)).toMatch(/Worst is full throttle: 0\.0\skm\/h\./);
  });
});
