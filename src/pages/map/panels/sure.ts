import "../../../ui/css/sure.css";
import "../styles/map-sure.css";
import { CHANCES } from "../../../state/sure.ts";
import { h, keyed, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import type { MapSureWords } from "../picture/sure-words.ts";

export interface MapSureModel extends MapSureWords {
  chancePercent: number;
  /** a sample goes on or was stopped; null: neither */
  progress: { share: number; words: string; act: "stop" | "go on" } | null;
}

export interface MapSurePanelHooks {
  chance(percent: number): void;
  stop(): void;
  again(): void;
}

export interface MapSurePanel {
  /** under the big number: the safe speed's ± and the speed to drive at most */
  hero: HTMLElement;
  /** the chances at the place where the car stands */
  section: HTMLElement;
  update(model: MapSureModel): void;
}

/** How sure the safe speed is, and how likely something gives at the place; `stopped` says why the chances stay away. */
export function createMapSurePanel(stopped: HTMLElement, hooks: MapSurePanelHooks): MapSurePanel {
  const sure = h("b");
  const range = h("span");
  const sureLine = h("p", { class: "hero-sure" }, sure, " ", h("span", { class: "hero-range" }, term("band", "90 % range"), " ", range));
  const chance = h(
    "select",
    { class: "sure-chance", "aria-label": "chance that something gives", onchange: () => hooks.chance(Number(chance.value)) },
    ...CHANCES.map((c) => h("option", { value: c }, `${c} %`)),
  );
  const atMost = h("b");
  const atMostOff = h("span", { class: "sure-off" });
  const most = h(
    "p",
    { class: "sure-most" },
    term("driveAtMost", "drive at most"),
    " ",
    atMost,
    " for a ",
    term("chance", "chance"),
    " of ",
    chance,
    atMostOff,
  );
  const hero = h("div", { class: "map-hero-sure" }, sureLine, most);

  const place = h("span", { class: "aside-term" });
  const rows = h("tbody");
  const note = h("p", { class: "map-note" });
  const words = h("span");
  let act: "stop" | "go on" = "stop";
  const button = h("button", { type: "button", class: "link", "data-act": "sampling", onclick: () => (act === "stop" ? hooks.stop() : hooks.again()) });
  const line = h("span", { class: "sure-line" });
  const progress = h("p", { class: "sure-progress off" }, words, " ", button, line);
  const section = h(
    "section",
    { class: "map-chances", "aria-label": "chances at this place" },
    h("div", { class: "head-row" }, h("h2", {}, term("chance", "Chance that it gives")), place),
    h("table", {}, h("caption", { class: "sr" }, "chance of each limit at the place where the car stands"), rows),
    note,
    progress,
    stopped,
  );
  return {
    hero,
    section,
    update(m) {
      sureLine.classList.toggle("off", m.sure === "");
      setText(sure, m.sure);
      setText(range, m.range);
      setText(atMost, m.atMost || "–");
      setText(atMostOff, m.atMostOff);
      if (document.activeElement !== chance) chance.value = String(m.chancePercent);
      setText(place, m.place);
      keyed(
        rows,
        m.chances,
        (c) => c.key,
        (c) => h("tr", { "data-chance": c.key }, h("th", { scope: "row" }), h("td")),
        (tr, c) => {
          const [name, value] = tr.children as unknown as [Element, Element];
          tr.classList.toggle("any", c.any);
          setText(name, c.words);
          setText(value, c.chance);
        },
      );
      setText(note, m.note || "Once the map and the changes are worked out, cars are drawn within what is known of this one.");
      progress.classList.toggle("off", m.progress === null);
      button.disabled = m.progress === null;
      if (m.progress) {
        act = m.progress.act;
        setText(words, m.progress.words);
        setText(button, act);
      }
      line.style.width = `${(100 * (m.progress?.share ?? 0)).toFixed(1)}%`;
    },
  };
}
