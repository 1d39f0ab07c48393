import { plainText } from "./plainText.js";

/** Text that LaTeX prints as it stands; signs beyond plain fonts become their commands. */
export function escapeLatex(text: string): string {
  return plainText(text)
    .replace(/\s*\r?\n\s*/g, " ")
    .replace(/[\\{}$&#%_^~<>|≥≤−±×°²–κ]/g, (sign) => commands[sign] ?? sign);
}

const commands: { readonly [sign: string]: string | undefined } = {
  "\\": "\\textbackslash{}",
  "{": "\\{",
  "}": "\\}",
  $: "\\$",
  "&": "\\&",
  "#": "\\#",
  "%": "\\%",
  _: "\\_",
  "^": "\\textasciicircum{}",
  "~": "\\textasciitilde{}",
  "<": "\\textless{}",
  ">": "\\textgreater{}",
  "|": "\\textbar{}",
  "≥": "$\\geq$",
  "≤": "$\\leq$",
  "−": "$-$",
  "±": "$\\pm$",
  "×": "$\\times$",
  "°": "$^\\circ$",
  "²": "$^2$",
  "–": "--",
  κ: "$\\kappa$",
};
