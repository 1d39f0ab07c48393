import { journalStyleOf } from "../../src/protocol/index.js";
import type { TableModel } from "../../src/results/index.js";
import type { Report } from "../../src/study/report/report.js";

// One corpus of texts that a file may hold and that no reader may be led astray by. Written as code points.

const at = (...codes: readonly number[]) => codes.map((code) => String.fromCharCode(code)).join("");

export const hostile: readonly (readonly [name: string, text: string])[] = [
  ["a vertical tab", `one${at(0x0b)}two`],
  ["a form feed", `one${at(0x0c)}two`],
  ["a null", `one${at(0)}two`],
  ["every control character", Array.from({ length: 32 }, (_, code) => at(code)).join("x")],
  [
    "the second row of controls",
    Array.from({ length: 33 }, (_, code) => at(0x7f + code)).join("x"),
  ],
  ["a colour", `${at(0x1b)}[31mred${at(0x1b)}[0m`],
  ["a title of the window", `${at(0x1b)}]0;owned${at(0x07)}text`],
  [
    "a link of the terminal",
    `${at(0x1b)}]8;;file:///etc/passwd${at(0x1b)}\\text${at(0x1b)}]8;;${at(0x1b)}\\`,
  ],
  ["a command in one sign", `${at(0x9b)}2Jtext`],
  ["a clipboard", `${at(0x9d)}52;c;AAAA${at(0x9c)}text`],
  ["half a character", `one${at(0xd83d)}two`],
  ["the other half", `one${at(0xdc00)}two`],
  ["no character", `one${at(0xfffe)}${at(0xffff)}two`],
  ["an override", `abc${at(0x202e)}fdp.exe${at(0x202c)}`],
  ["an isolate", `${at(0x2067)}abc${at(0x2069)}`],
  ["line and paragraph separators", `one${at(0x2028)}two${at(0x2029)}three`],
  ["a lone carriage return", `one${at(0x0d)}two`],
  ["lines", "one\n# two\n- three"],
  ["Markdown", "# *a* _b_ [c](javascript:alert(1)) `d` | e ~f~ <b> &amp; ![x](y)"],
  ["HTML", `<script>alert("1")</script><img src=x onerror='alert(1)'>&lt;`],
  ["the end of a script", `</script><!--<script>]]>`],
  ["LaTeX", "\\input{/etc/passwd} $x$ & % # _ ^ ~ { }"],
  ["a formula", `=HYPERLINK("http://example.invalid","x")`],
  ["a formula after a tab", "\t=1+1"],
  ["a formula after a control", `${at(0x01)}=1+1`],
  ["plus, minus, at", "+1+1"],
  ["a field of a document", "{ INCLUDETEXT file }"],
  ["quotes", `"a","b";'c'`],
  ["beyond the first plane", "\u{1f600} \u{10ffff}"],
];

/** What may be in no text that leaves the program. */
export const forbidden = new RegExp(
  `[${at(0)}-${at(8)}${at(0x0b)}-${at(0x1f)}${at(0x7f)}-${at(0x9f)}${at(0x2028)}-${at(0x202e)}${at(0x2066)}-${at(0x2069)}${at(0xfffe)}${at(0xffff)}]` +
    `|[${at(0xd800)}-${at(0xdbff)}](?![${at(0xdc00)}-${at(0xdfff)}])|(?<![${at(0xd800)}-${at(0xdbff)}])[${at(0xdc00)}-${at(0xdfff)}]`,
);

export const tableOf = (text: string): TableModel => ({
  kind: "table",
  title: text,
  columns: [
    { label: text, format: "text" },
    { label: "n", format: "count", unit: text },
  ],
  rows: [{ cells: [text, 3] }, { heading: true, cells: [text] }],
  notes: [text],
});

export const reportOf = (text: string): Report => ({
  kind: "report",
  style: journalStyleOf({}),
  title: text,
  statement: text,
  caution: text,
  sections: [
    {
      id: "one",
      title: text,
      blocks: [
        { kind: "paragraph", text },
        { kind: "paragraph", text, emphasis: "headline" },
        { kind: "list", items: [text] },
        tableOf(text),
      ],
    },
  ],
});
