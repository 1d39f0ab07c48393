import { defaultKeymap, history, historyKeymap } from "@codemirror/commands";
import { javascript } from "@codemirror/lang-javascript";
import { bracketMatching, HighlightStyle, syntaxHighlighting } from "@codemirror/language";
import { StateEffect, StateField } from "@codemirror/state";
import { Decoration, EditorView, keymap, lineNumbers } from "@codemirror/view";
import { tags } from "@lezer/highlight";

export interface CellEditor {
  readonly element: HTMLElement;
  source(): string;
  /** Marks a line, from 1, until the next change; null marks none. */
  mark(line: number | null): void;
}

const markLine = StateEffect.define<number | null>();
const lineMark = Decoration.line({ class: "failed-line" });

const marked = StateField.define({
  create: () => Decoration.none,
  update(marks, { docChanged, effects, newDoc }) {
    for (const effect of effects) {
      if (!effect.is(markLine)) continue;
      const line = effect.value;
      if (line === null || line > newDoc.lines) return Decoration.none;
      return Decoration.set([lineMark.range(newDoc.line(line).from)]);
    }
    return docChanged ? Decoration.none : marks;
  },
  provide: (field) => EditorView.decorations.from(field),
});

const colours = HighlightStyle.define([
  { tag: [tags.keyword, tags.modifier, tags.operatorKeyword], color: "var(--word)" },
  { tag: [tags.string, tags.regexp, tags.special(tags.string)], color: "var(--text)" },
  { tag: [tags.number, tags.bool, tags.null], color: "var(--number)" },
  { tag: tags.comment, color: "var(--quiet)", fontStyle: "italic" },
  { tag: [tags.typeName, tags.className], color: "var(--type)" },
]);

/** An editor of one cell. Tab leaves it; Shift or Control with Enter runs the cell. */
export function cellEditor(
  source: string,
  label: string,
  { onRun, onChange }: { readonly onRun: () => void; readonly onChange: () => void },
): CellEditor {
  const run = () => {
    onRun();
    return true;
  };
  const view = new EditorView({
    doc: source,
    extensions: [
      keymap.of([
        { key: "Mod-Enter", run },
        { key: "Shift-Enter", run },
        ...historyKeymap,
        ...defaultKeymap,
      ]),
      history(),
      lineNumbers(),
      bracketMatching(),
      javascript({ typescript: true }),
      syntaxHighlighting(colours),
      marked,
      EditorView.contentAttributes.of({ "aria-label": label, tabindex: "0" }),
      EditorView.updateListener.of(({ docChanged }) => {
        if (docChanged) onChange();
      }),
    ],
  });
  return {
    element: view.dom,
    source: () => view.state.doc.toString(),
    mark: (line) => view.dispatch({ effects: markLine.of(line) }),
  };
}
