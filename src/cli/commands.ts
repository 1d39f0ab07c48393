// The commands in the order of the help; each file exports one function that registers its own.
//
// A command gets --json and --trace by `command.optsWithGlobals()`, throws on a mistake (printed
// as one line, exit code 1), and sets process.exitCode for anything else. Wrong usage is code 2.
// Whatever is heavy is imported inside the action, so that the help comes at once.
import type { Command } from "commander";
import { registerAudit } from "./audit.js";
import { registerDraft } from "./draft.js";
import { registerFolder } from "./folder.js";
import { registerKernelCommand } from "./kernel.js";
import { registerNotebooks } from "./notebooks.js";
import { registerPage } from "./page.js";
import { registerPrepare } from "./prepare.js";
import { registerPrinted } from "./printed.js";
import { registerReproduce } from "./reproduce.js";
import { registerSize } from "./size.js";
import { registerStudy } from "./study.js";
import { registerTables } from "./tables.js";

export const commands: readonly ((program: Command) => void)[] = [
  registerPrepare,
  registerAudit,
  registerDraft,
  registerSize,
  registerStudy,
  registerReproduce,
  registerTables,
  registerPrinted,
  registerNotebooks,
  registerKernelCommand,
  registerFolder,
  registerPage,
];
