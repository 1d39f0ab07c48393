#!/usr/bin/env node
import { Command, CommanderError } from "commander";
import { caution } from "../results/index.js";
import { commands } from "./commands.js";
import { forTerminal } from "./forTerminal.js";

const program = new Command("meridional")
  .description("How far can a screening reading be trusted, and where should the line be drawn?")
  .option("--json", "print the result as JSON instead of text")
  .option("--trace", "on an error, print the stack as well")
  .addHelpText("after", `\n${forTerminal(caution)}`)
  .exitOverride()
  .configureOutput({
    outputError: (text, write) => write(text.replace(/^error: /, "meridional: ")),
  });

for (const register of commands) register(program);
// sub-commands end with the same codes as the program
for (const command of program.commands) {
  command.exitOverride().configureOutput(program.configureOutput());
}

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? 0 : 2;
  } else {
    const { message, stack } = error instanceof Error ? error : new Error(String(error));
    process.stderr.write(`meridional: ${message}\n`);
    if (program.opts().trace) process.stderr.write(`${stack}\n`);
    process.exitCode = 1;
  }
}
