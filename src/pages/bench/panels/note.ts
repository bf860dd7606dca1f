import { CAPS } from "../../../scenario/caps.ts";
import { h, setAttr, setText } from "../../../ui/dom.ts";

/** A line that the builder writes beside something; what is too long for it stays to be seen, and is told. */
export function createNote(data: Record<string, string>, onSet: (text: string) => void): { el: HTMLElement; update(text: string): void } {
  const fault = h("span", { class: "number-fault", role: "alert" });
  const tell = (letters: number): void => {
    const long = letters > CAPS.noteLetters;
    setText(fault, long ? `not kept: it has ${letters} letters, a note holds up to ${CAPS.noteLetters}` : "");
    setAttr(input, "aria-invalid", long ? "true" : null);
  };
  let tooLong = false;
  let kept = "";
  const input = h("input", {
    type: "text",
    autocomplete: "off",
    ...data,
    oninput() {
      tooLong = input.value.length > CAPS.noteLetters;
      tell(input.value.length);
      if (!tooLong) onSet(input.value);
    },
  });
  return {
    el: h("label", { class: "bench-field bench-note-field" }, h("span", {}, "note"), input, fault),
    update(text) {
      // another test's or run's note takes the place of what was not kept
      if (tooLong && text === kept) return;
      kept = text;
      if (tooLong) tell(0);
      tooLong = false;
      if (input.value !== text) input.value = text;
    },
  };
}
