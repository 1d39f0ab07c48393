import type { Command } from "commander";
import { jsonText } from "../text/index.js";

/** `meridional kernel`: makes the notebook kernel known to the user's Jupyter. */
export function registerKernelCommand(program: Command): void {
  program
    .command("kernel")
    .description("register the notebook kernel with this user's Jupyter")
    .action(async (_options: object, command: Command) => {
      const { registerKernel } = await import("../notebook/registerKernel.js");
      const folder = registerKernel();
      const text = `kernel "TypeScript (meridional)" registered in ${folder}`;
      console.log(command.optsWithGlobals().json ? jsonText({ folder }) : text);
    });
}
