import { scaleLinear } from "d3-scale";
import { fieldName } from "../../../core/design/field-words.ts";
import type { Scenario } from "../../../core/design/types.ts";
import { rangeOf } from "../../../scenario/ranges.ts";
import { h, keyed, s, setAttr, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import { createKnownSign, type KnownSign } from "../../../ui/known-sign.ts";
import { createNumber, type NumberField } from "../../../ui/number-field.ts";
import type { OriginFields } from "../../../ui/origin-fields.ts";
import { fixed } from "../../../view/format.ts";
import { termOfField } from "../../../view/terms.ts";
import type { DriveNumbers, HeatAtSpeed } from "../picture/drive-words.ts";
import { DRIVE_NUMBERS, type DriveNumber, motorsOf, STAGE_NUMBERS, type StageNumber } from "../state/drive-edits.ts";

export interface DriveModel {
  scenario: Scenario;
  numbers: DriveNumbers;
  /** null while the panel is folded */
  heat: HeatAtSpeed | null;
  steerM: number;
  carKmh: number;
  minutes: number;
  open: boolean;
}

export interface DriveHooks {
  toggle(open: boolean): void;
  set(key: DriveNumber, value: number, words: string): void;
  motors(count: number): void;
  carMass(kg: number, words: string): void;
  /** null: it was not driven */
  driven(kmh: number | null): void;
  wheelRadius(mm: number): void;
  stage(index: number, key: StageNumber, value: number): void;
  addStage(): void;
  dropStage(index: number): void;
  steer(radiusM: number): void;
  speed(kmh: number): void;
  minutes(min: number): void;
  /** the shelf of motors */
  shelf: HTMLElement;
  origins: OriginFields;
}

/** at most so many motors in a car */
const MOTORS_MOST = 16;
const CHART = { w: 260, h: 150, left: 34, right: 8, top: 18, bottom: 28 };

/** The drive: what is in it, what it reaches, how fast each wheel must turn in a curve, and what its push does to the arms. */
export function createDrive(hooks: DriveHooks): { el: HTMLElement; update(m: DriveModel): void } {
  const summary = h("span", { class: "drive-summary" });
  const fields = new Map<string, NumberField>();
  const add = (key: string, words: string, unit: string, path: string, onSet: (v: number) => void): HTMLElement => {
    const range = rangeOf(path);
    const f = createNumber({ words, term: termOfField(path), unit, min: range?.min ?? 0, max: range?.max ?? 1e6, whole: range?.whole ?? false, onSet });
    fields.set(key, f);
    hooks.origins.add(path, words, f.el.querySelector(".number-words") ?? f.el, f.el);
    return f.el;
  };
  const wheel = add("wheel", "wheel radius", "mm", "corner.wheel.radiusMm", (v) => hooks.wheelRadius(v));
  const { short: carWords = "", unit: carUnit = "" } = fieldName("body.carMassKg") ?? {};
  const car = add("car", carWords, carUnit, "body.carMassKg", (v) => hooks.carMass(v, carWords));
  const numbers = DRIVE_NUMBERS.map((key) => {
    if (key === "motorsPerWheel") {
      const f = createNumber({ words: "motors in the whole car", unit: "", min: 1, max: MOTORS_MOST, whole: true, onSet: (v) => hooks.motors(v) });
      fields.set(key, f);
      return f.el;
    }
    const { short = key, unit = "" } = fieldName(`drive.${key}`) ?? {};
    return add(key, short, unit, `drive.${key}`, (v) => hooks.set(key, v, short));
  });
  const stages = h("ol", { class: "drive-stages" });
  const stageFields = new Map<number, Record<StageNumber, NumberField>>();
  const addButton = h("button", { type: "button", class: "link", "data-act": "add-stage", onclick: () => hooks.addStage() }, "add a gear stage");
  const drivenField = fieldName("drive.topSpeedDrivenKmh");
  const driven = add("driven", drivenField?.short ?? "", drivenField?.unit ?? "", "drive.topSpeedDrivenKmh", (v) => hooks.driven(v));
  const notDriven = h("button", { type: "button", class: "link small", "data-act": "not-driven", onclick: () => hooks.driven(null) }, "remove it");
  const drivenNote = h("p", { class: "drive-note" });
  const facts = h("dl", { class: "drive-facts" });
  const chart = s("svg", {
    class: "drive-chart",
    viewBox: `0 0 ${CHART.w} ${CHART.h}`,
    width: CHART.w,
    height: CHART.h,
    role: "img",
    "aria-label": "push and resistance over speed",
  });
  const steer = createNumber({ words: "steering radius", unit: "m", min: 0.1, max: 1000, whole: false, onSet: (v) => hooks.steer(v) });
  const speed = createNumber({ words: "car speed", unit: "km/h", min: 0, max: 200, whole: false, onSet: (v) => hooks.speed(v) });
  const minutes = createNumber({ words: "drive for", unit: "min", min: 0.1, max: 240, whole: false, onSet: (v) => hooks.minutes(v) });
  const heatNote = h("p", { class: "drive-note" });
  const heatBody = h("tbody");
  const wheelsAt = h("p", { class: "aside-term" });
  const wheelBody = h("tbody");
  const armBody = h("tbody");
  const armNote = h("p", { class: "drive-note" });
  const head = (cells: readonly string[]): HTMLElement => h("thead", {}, h("tr", {}, ...cells.map((c) => h("th", { scope: "col" }, c))));
  const inner = h(
    "div",
    { class: "drive-body" },
    h(
      "section",
      { class: "drive-parts", "aria-label": "parts of the drive" },
      h("h2", {}, "What drives it"),
      car,
      wheel,
      ...numbers,
      hooks.shelf,
      h("h3", {}, "Gears, from motor to wheel"),
      stages,
      addButton,
    ),
    h("section", { class: "drive-reach", "aria-label": "what the drive reaches" }, h("h2", {}, "What it reaches"), driven, drivenNote, notDriven, facts, chart),
    h(
      "section",
      { class: "drive-wheels", "aria-label": "speed of each wheel in a curve" },
      h("h2", {}, "How fast each wheel turns"),
      h("p", { class: "aside-term" }, "what an electronic differential must ask of the motors"),
      h("div", { class: "drive-ask" }, steer.el, speed.el),
      wheelsAt,
      h(
        "table",
        {},
        h("caption", { class: "sr" }, "wheel speeds over the steering radius"),
        head(["curve", "left, km/h", "right, km/h", "outer : inner", "left motor, rpm", "right motor, rpm"]),
        wheelBody,
      ),
    ),
    h(
      "section",
      { class: "drive-arms", "aria-label": "push on the arms" },
      h("h2", {}, "What the push does to the arms"),
      armNote,
      h(
        "table",
        {},
        h("caption", { class: "sr" }, "fore-aft load of the arms"),
        head(["arm", "push", "stiffness fore–aft", "flexes", "of its yield"]),
        armBody,
      ),
    ),
  );
  inner.append(
    h(
      "section",
      { class: "drive-arms", "aria-label": "heat of the hubs over a drive" },
      h("h2", {}, term("heat", "How hot the hubs run")),
      h("p", { class: "aside-term" }, "friction heat, at the curve and speed asked for above"),
      minutes.el,
      h(
        "table",
        {},
        h("caption", { class: "sr" }, "temperature of each hub over the drive"),
        head(["minutes", "left hub", "strength it keeps", "right hub", "strength it keeps"]),
        heatBody,
      ),
      heatNote,
    ),
  );
  const el = h("details", { class: "drive" }, h("summary", {}, h("b", {}, "the drive"), " ", summary), inner);
  el.addEventListener("toggle", () => hooks.toggle(el.open));
  let wasOpen = el.open;

  const stageSigns = new Map<string, KnownSign>();
  const stageRow = (i: number): HTMLLIElement => {
    const make = (key: StageNumber, words: string, unit: string, times: number): NumberField => {
      const range = rangeOf(`drive.stages[0].${key}`);
      return createNumber({
        words,
        unit,
        min: (range?.min ?? 1) * times,
        max: (range?.max ?? 1000) * times,
        whole: range?.whole ?? false,
        onSet: (v) => hooks.stage(i, key, v / times),
      });
    };
    const row = {
      drivingTeeth: make("drivingTeeth", "driving", "teeth", 1),
      drivenTeeth: make("drivenTeeth", "driven", "teeth", 1),
      efficiency: make("efficiency", "passes on", "%", 100),
    };
    stageFields.set(i, row);
    for (const [key, field] of Object.entries(row)) {
      const sign = createKnownSign();
      field.el.querySelector(".number-words")?.append(sign.el);
      stageSigns.set(`drive.stages[${i}].${key}`, sign);
    }
    return h(
      "li",
      {},
      row.drivingTeeth.el,
      row.drivenTeeth.el,
      row.efficiency.el,
      h("span", { class: "stage-ratio" }),
      h("button", { type: "button", class: "link", "aria-label": `remove gear stage ${i + 1}`, onclick: () => hooks.dropStage(i) }, "remove"),
    );
  };

  const write = (tr: Element, texts: readonly string[]): void => {
    texts.forEach((t, i) => {
      setText(tr.children[i] as Element, t);
    });
  };

  /** A table's rows, the first cell of each its head. */
  const rows = <T extends { key: string }>(body: Element, items: readonly T[], texts: (item: T) => string[], more?: (tr: Element, item: T) => void): void =>
    keyed(
      body,
      items,
      (r) => r.key,
      (r) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }),
          ...texts(r)
            .slice(1)
            .map(() => h("td")),
        ),
      (tr, r) => {
        more?.(tr, r);
        write(tr, texts(r));
      },
    );

  return {
    el,
    update(m) {
      // only what is told anew is written: a press that was not heard yet must not be undone
      if (m.open !== wasOpen) el.open = m.open;
      wasOpen = m.open;
      setText(summary, m.numbers.summary);
      if (!m.open) return;
      const { drive, corner, body } = m.scenario;
      fields.get("car")?.update(body.carMassKg);
      fields.get("driven")?.update(drive.topSpeedDrivenKmh ?? Number.NaN);
      notDriven.hidden = drive.topSpeedDrivenKmh === null;
      setText(
        drivenNote,
        drive.topSpeedDrivenKmh === null
          ? "Measured on a flat straight road. Until it is given, map and report count with what motors and gears say."
          : "Map and report count with this speed. The motors' own numbers stay as they are.",
      );
      for (const key of DRIVE_NUMBERS) fields.get(key)?.update(key === "motorsPerWheel" ? motorsOf(drive) : drive[key]);
      fields.get("wheel")?.update(corner.wheel.radiusMm);
      keyed(
        stages,
        drive.stages.map((stage, i) => ({ stage, i })),
        (r) => String(r.i),
        (r) => stageRow(r.i),
        (li, r) => {
          const f = stageFields.get(r.i);
          for (const key of STAGE_NUMBERS) {
            const path = `drive.stages[${r.i}].${key}`;
            stageSigns.get(path)?.show(path, m.scenario.origins[path]);
          }
          f?.drivingTeeth.update(r.stage.drivingTeeth);
          f?.drivenTeeth.update(r.stage.drivenTeeth);
          f?.efficiency.update(Math.round(r.stage.efficiency * 1000) / 10);
          setText(li.querySelector(".stage-ratio") as Element, `speed ÷ ${fixed(r.stage.drivenTeeth / r.stage.drivingTeeth, 2)}`);
        },
      );
      keyed(
        facts,
        m.numbers.facts,
        (_f) => _f.words.replace(/[\d.]+/, ""),
        () => h("div", {}, h("dt"), h("dd")),
        (div, f) => write(div, [f.words, f.value]),
      );
      drawThrust(chart, m.numbers);
      steer.update(m.steerM);
      speed.update(Math.round(m.carKmh * 10) / 10);
      setText(wheelsAt, m.numbers.wheelsAt);
      rows(
        wheelBody,
        m.numbers.wheels,
        (w) => [w.curve, w.leftKmh, w.rightKmh, w.ratio, w.leftRpm, w.rightRpm],
        (tr, w) => tr.classList.toggle("here", w.here),
      );
      minutes.update(m.minutes);
      setText(heatNote, m.heat?.heatNote ?? "");
      rows(heatBody, m.heat?.heat ?? [], (p) => [p.minutes, p.left, p.leftHolds, p.right, p.rightHolds]);
      setText(armNote, m.numbers.armsNote);
      rows(armBody, m.numbers.arms, (a) => [a.words, a.force, a.stiffness, a.shift, a.share]);
    },
  };
}

/** Push falling with speed against what holds back; where they meet the car goes no faster. */
function drawThrust(svg: SVGSVGElement, numbers: DriveNumbers): void {
  const most = Math.max(1, ...numbers.thrust.map((p) => p.newton));
  const far = Math.max(1, numbers.thrust.at(-1)?.kmh ?? 1);
  const x = scaleLinear()
    .domain([0, far])
    .range([CHART.left, CHART.w - CHART.right]);
  const y = scaleLinear()
    .domain([0, most])
    .range([CHART.h - CHART.bottom, CHART.top]);
  const line = (of: (p: DriveNumbers["thrust"][number]) => number): string =>
    `M${numbers.thrust.map((p) => `${x(p.kmh).toFixed(1)} ${y(Math.min(most, of(p))).toFixed(1)}`).join("L")}`;
  const at = numbers.thrust.find((p) => p.kmh >= numbers.topKmh) ?? numbers.thrust[0];
  const ticks = x.ticks(4).map((t) => s("text", { x: x(t).toFixed(1), y: CHART.h - 12, "text-anchor": "middle" }, fixed(t, 0)));
  svg.replaceChildren(
    s("path", { class: "chart-zero", d: `M${CHART.left} ${y(0)}H${CHART.w - CHART.right}` }),
    s("path", { class: "drive-thrust", d: line((p) => p.newton) }),
    s("path", { class: "drive-holds", d: line((p) => p.holds) }),
    ...(numbers.topKmh > 0
      ? [
          s("circle", { class: "drive-dot", cx: x(numbers.topKmh).toFixed(1), cy: y(at?.holds ?? 0).toFixed(1), r: 4 }),
          s(
            "text",
            { class: "strong", x: x(numbers.topKmh).toFixed(1), y: (y(at?.holds ?? 0) - 9).toFixed(1), "text-anchor": "end" },
            `${fixed(numbers.topKmh, 1)} km/h`,
          ),
        ]
      : []),
    s("text", { x: CHART.left, y: 12, "text-anchor": "end" }, "N"),
    s("text", { x: CHART.left - 5, y: y(most) + 5, "text-anchor": "end" }, fixed(most, 0)),
    s("text", { x: CHART.left - 5, y: y(0) + 4, "text-anchor": "end" }, "0"),
    s("text", { x: x(far * 0.3).toFixed(1), y: (y(most * 0.7) - 8).toFixed(1) }, "push of the motors"),
    s("text", { x: CHART.left + 6, y: (y(numbers.thrust[0]?.holds ?? 0) - 6).toFixed(1) }, "holds back"),
    ...ticks,
    s("text", { x: CHART.w - CHART.right, y: CHART.h - 1, "text-anchor": "end" }, "km/h"),
  );
  setAttr(svg, "aria-label", `push of the motors against what holds the car back; they meet at ${fixed(numbers.topKmh, 1)} km/h`);
}
