import "./css/shelf.css";
import "./css/small-field.css";
import { KINDS_OF_PARTS, type ShelfKind, type ShelfPart } from "../scenario/shelf-kinds.ts";
import { TYPICAL_PARTS, type TypicalPart } from "../scenario/shelf-parts.ts";
import { h, keyed, setAttr, setText } from "./dom.ts";
import { term } from "./help.ts";
import { partKnown, partValues } from "./shelf-words.ts";

interface ShelfModel {
  /** kinds of parts that go where the panel stands */
  kinds: readonly ShelfKind[];
  own: readonly ShelfPart[];
  /** what of the own shelf cannot be read */
  amiss: readonly string[];
  open: boolean;
}

export interface ShelfHooks {
  turn(open: boolean): void;
  take(part: ShelfPart): void;
  /** puts the part of the design on the own shelf */
  put(kind: ShelfKind, name: string): void;
  remove(part: ShelfPart): void;
  save(): void;
  openFile(): void;
}

export interface ShelfList {
  el: HTMLElement;
  update(model: ShelfModel): void;
  /** what happened, with a way back */
  tell(words: string, action?: { words: string; run(): void }): void;
}

const NAME_MOST = 60;

/** The shelf where a part is edited: typical parts and one's own, each with its values and where they are from; one press takes it. */
export function createShelfList(hooks: ShelfHooks): ShelfList {
  const word = h("button", { type: "button", class: "link small shelf-open", onclick: () => hooks.turn(!model?.open) }, "from the shelf");
  const status = h("p", { class: "shelf-status", role: "status", hidden: true });
  const kinds = h("div");
  const amiss = h("p", { class: "shelf-amiss", role: "status", hidden: true });
  const files = h(
    "p",
    { class: "shelf-files" },
    h("button", { type: "button", class: "link small", "data-act": "save-shelf", onclick: () => hooks.save() }, "save my shelf as a file"),
    h("button", { type: "button", class: "link small", "data-act": "open-shelf", onclick: () => hooks.openFile() }, "open a shelf file"),
  );
  const body = h("div", { class: "shelf-body" }, kinds, amiss, files);
  const el = h("div", { class: "shelf" }, word, status, body);
  let model: ShelfModel | null = null;

  const row = (p: ShelfPart, mine: boolean): HTMLElement => {
    const source = (p as TypicalPart).source;
    return h(
      "li",
      { class: "shelf-part" },
      h("b", {}, p.name),
      h("span", { class: "shelf-values" }),
      h("span", { class: "shelf-source" }, mine ? `yours: ${partKnown(p)}` : source),
      h(
        "span",
        { class: "shelf-acts" },
        h("button", { type: "button", class: "link small", "data-take": p.name, "aria-label": `take ${p.name}`, onclick: () => hooks.take(p) }, "take"),
        mine &&
          h(
            "button",
            { type: "button", class: "link small", "data-remove": p.name, "aria-label": `remove ${p.name}`, onclick: () => hooks.remove(p) },
            "remove",
          ),
      ),
    );
  };
  const list = (): HTMLElement => h("ul", { class: "shelf-parts" });
  const fill = (ul: Element, parts: readonly ShelfPart[], mine: boolean): void =>
    keyed(
      ul,
      parts,
      (p) => `${p.name}|${JSON.stringify(p.values)}|${JSON.stringify(p.known)}`,
      (p) => row(p, mine),
      (li, p) => setText(li.children[1] as Element, partValues(p)),
    );
  const section = (kind: ShelfKind): HTMLElement => {
    const { words } = KINDS_OF_PARTS[kind];
    const name = h("input", {
      type: "text",
      maxlength: NAME_MOST,
      autocomplete: "off",
      placeholder: "its name",
      "aria-label": `name of this ${words} on your shelf`,
    });
    const put = (): void => {
      const wanted = name.value.trim();
      if (wanted === "") {
        name.focus();
        return;
      }
      hooks.put(kind, wanted);
      name.value = "";
    };
    name.addEventListener("keydown", (e) => {
      if (e.key === "Enter") put();
    });
    return h(
      "section",
      {},
      h("p", { class: "shelf-kind" }, words),
      list(),
      h(
        "p",
        { class: "shelf-put" },
        name,
        h(
          "button",
          { type: "button", class: "link small", "data-put": kind, onclick: put },
          `put this ${words === "what holds the wheel" ? "one" : words} on my shelf`,
        ),
      ),
      list(),
    );
  };
  body.prepend(h("p", { class: "shelf-lead" }, "What is taken is marked as a ", term("guess", "guess"), "; your own as you know it."));
  return {
    el,
    tell(words, action) {
      status.hidden = words === "";
      status.replaceChildren(words, " ");
      if (action) status.append(h("button", { type: "button", class: "link small", onclick: () => action.run() }, action.words));
    },
    update(next) {
      model = next;
      setAttr(word, "aria-expanded", String(next.open));
      setText(word, next.open ? "close the shelf" : "from the shelf");
      body.hidden = !next.open;
      if (!next.open) return;
      keyed(
        kinds,
        next.kinds,
        (k) => k,
        section,
        (sec, kind) => {
          fill(
            sec.children[3] as Element,
            TYPICAL_PARTS.filter((p) => p.kind === kind),
            false,
          );
          fill(
            sec.children[1] as Element,
            next.own.filter((p) => p.kind === kind),
            true,
          );
        },
      );
      setText(amiss, next.amiss.length === 0 ? "" : `Not read, and kept as it is: ${next.amiss.join(" ")}`);
      amiss.hidden = next.amiss.length === 0;
    },
  };
}
