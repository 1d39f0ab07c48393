#!/usr/bin/env node
import { readFileSync } from "node:fs";
import { Command, CommanderError } from "commander";
import { caution } from "../results/index.js";
import { plainText } from "../text/index.js";
import { commands } from "./commands.js";
import { forTerminal } from "./forTerminal.js";

// what a file or its name holds reaches the terminal as letters and signs alone
const print = console.log;
console.log = (...parts: unknown[]) => print(...parts.map((part) => plainText(String(part))));

const program = new Command("meridional")
  .description("How far can a screening reading be trusted, and where should the line be drawn?")
  .version(ownVersion(), "--version", "print the version")
  .option("--json", "print the result as JSON instead of text")
  .option("--trace", "on an error, print the stack as well")
  .addHelpText("after", `\n${forTerminal(caution)}`)
  .exitOverride()
  .configureHelp({ showGlobalOptions: true })
  .configureOutput({
    outputError: (text, write) => write(plainText(text).replace(/^error: /, "meridional: ")),
  });

for (const register of commands) register(program);
// sub-commands end with the same codes as the program
for (const command of program.commands) {
  command
    .exitOverride()
    .configureHelp(program.configureHelp())
    .configureOutput(program.configureOutput());
}

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? 0 : 2;
  } else {
    const known = error instanceof Error ? error : new Error(String(error));
    const { stack } = known;
    process.stderr.write(`meridional: ${plainText(inWords(known, program.args[0] ?? ""))}\n`);
    if (program.opts().trace) process.stderr.write(`${stack}\n`);
    process.exitCode = 1;
  }
}

function ownVersion(): string {
  return JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8")).version;
}

/** The message; what the file system says is told with the command, and a lack of permission in words. */
function inWords(error: NodeJS.ErrnoException, command: string): string {
  const { code = "", syscall, path, message } = error;
  if (syscall === undefined) return message;
  return /^(EACCES|EPERM|EROFS)$/.test(code) && path !== undefined
    ? `${command} requires permission for ${path}, got none (${code})`
    : `${command}: ${message}`;
}
