import type { Sides } from "../core/design/edit-corners.ts";
import type { Side } from "../core/design/types.ts";
import { readChosen } from "../scenario/read-file.ts";
import { formatShelf, readShelf } from "../scenario/shelf-file.ts";
import type { ShelfKind } from "../scenario/shelf-kinds.ts";
import { type OwnShelf, ownShelf, putParts, removePart } from "../state/own-shelf.ts";
import type { Shelf } from "../state/persist.ts";
import { partOfDesign, takenFromShelf } from "../state/shelf-edits.ts";
import type { Store } from "../state/store.ts";
import { pickFile, saveText } from "./files.ts";
import { createShelfList } from "./shelf-list.ts";

export interface ShelfPlace {
  kinds: readonly ShelfKind[];
  /** where a part goes that has several places */
  place?: string;
  sides: Sides;
}

export interface ShelfHandHooks {
  store: Store;
  say(text: string): void;
  /** it became larger or smaller */
  resized(): void;
}

/** The browser's store of strings; null where it is shut. */
function strings(): Shelf | null {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}

/** The shelf of parts, joined to the store: what is taken is one step of design A; one's own parts lie in this browser. */
export function createShelfHand(hooks: ShelfHandHooks): { el: HTMLElement; update(place: ShelfPlace): void } {
  const { store } = hooks;
  let open = false;
  /** what the list shows */
  let written: readonly unknown[] = [];
  let own: OwnShelf | null = null;
  let at: ShelfPlace = { kinds: [], sides: "both" };
  const again = (): void => {
    own = null;
    write();
    hooks.resized();
  };
  const kept = (words: string | null, done: string): void => {
    list.tell(words ?? done);
    again();
  };
  const list = createShelfList({
    turn(next) {
      open = next;
      list.tell("");
      again();
    },
    take(part) {
      const refusal = store.act(`take ${part.name} from the shelf`, (d) => ({ ...d, a: takenFromShelf(d.a, part, at.sides, at.place) }));
      list.tell(refusal ?? `${part.name} is taken.`);
      if (refusal === null) hooks.say(`${part.name} is taken from the shelf.`);
      hooks.resized();
    },
    put(kind, name) {
      const home = strings();
      const side: Side = at.sides === "left" ? "left" : "right";
      const part = partOfDesign(store.settled().a, kind, name, side, at.place);
      kept(home ? putParts(home, [part], Date.now()) : "It could not be put on the shelf: this browser keeps nothing here.", `${name} lies on your shelf.`);
    },
    remove(part) {
      const home = strings();
      const back = home ? removePart(home, part.kind, part.name, Date.now()) : null;
      list.tell(
        back ? `${part.name} was removed from your shelf.` : "It could not be removed: this browser's store is full or shut.",
        back
          ? {
              words: "put it back",
              run: () => kept(back() ? null : "It could not be put back: this browser's store is full or shut.", `${part.name} lies on your shelf again.`),
            }
          : undefined,
      );
      again();
    },
    save() {
      const home = strings();
      const { parts } = home ? ownShelf(home) : { parts: [] };
      if (parts.length === 0) list.tell("Your shelf is empty.");
      else saveText("my shelf", formatShelf(parts));
    },
    openFile: () =>
      pickFile(async (file) => {
        const text = await readChosen([{ file, isFolder: false }]);
        const read = text.ok ? readShelf(text.text, file.name) : text;
        if (!read.ok) return list.tell(read.message);
        const wrong = read.unread[0];
        if (wrong) return list.tell(`${wrong.message} Your shelf is unchanged.`);
        const home = strings();
        const count = read.parts.length;
        kept(
          home ? putParts(home, read.parts, Date.now()) : "This browser keeps nothing here.",
          `${count} ${count === 1 ? "part was" : "parts were"} put on your shelf.`,
        );
      }),
  });
  const write = (): void => {
    if (open && own === null) {
      const home = strings();
      own = home ? ownShelf(home) : { parts: [], amiss: [] };
    }
    const causes = [at.kinds.join(), open, own];
    if (causes.every((c, i) => c === written[i])) return;
    written = causes;
    list.update({ kinds: at.kinds, own: own?.parts ?? [], amiss: own?.amiss ?? [], open });
  };
  return {
    el: list.el,
    update(place) {
      if (place.kinds.join() !== at.kinds.join() || place.place !== at.place) list.tell("");
      at = place;
      write();
    },
  };
}
