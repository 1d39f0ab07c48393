import { execFileSync } from "node:child_process";

/** Programs that tests of `*.outside.ts` call, and the Debian package that holds each. */
const packages = {
  chromium: "chromium",
  "firefox-esr": "firefox-esr",
  pdflatex: "texlive-latex-recommended",
  pdftoppm: "poppler-utils",
  pdftotext: "poppler-utils",
  soffice: "libreoffice-writer-nogui",
} as const;

export type Program = keyof typeof packages;

/** Where a program is; an error that names its package where it is not. */
export function pathOf(program: Program): string {
  try {
    return execFileSync("which", [program], { encoding: "utf8", stdio: "pipe" }).trim();
  } catch {
    throw new Error(`${program} is not installed: apt-get install ${packages[program]}`);
  }
}

/** Runs a program to its end and gives what it wrote. */
export function runProgram(
  program: Program,
  parameters: readonly string[],
  options: { readonly cwd?: string; readonly input?: Uint8Array } = {},
): string {
  return execFileSync(pathOf(program), parameters, {
    ...options,
    encoding: "utf8",
    stdio: ["pipe", "pipe", "ignore"],
    // a whole report's text
    maxBuffer: 2 ** 28,
  });
}

/** Converts a document by a word processor; the result lies beside it. */
export function convertDocument(folder: string, file: string, to: string): void {
  runProgram(
    "soffice",
    [`-env:UserInstallation=file://${folder}/profile`, "--headless", "--convert-to", to, file],
    { cwd: folder },
  );
}
