// What Jupyter starts: `kernelMain.js CONNECTION_FILE`.
import { createRequire } from "node:module";
import { honourStopOnError } from "./honourStopOnError.js";
import { oneLineErrors } from "./oneLineErrors.js";
import { patchConverter } from "./patchConverter.js";

interface KernelModule {
  startKernel(options: { configPath: string; enableFindLocal: boolean }): void;
}

patchConverter();
honourStopOnError();
oneLineErrors();
const { startKernel }: KernelModule = createRequire(import.meta.url)("tslab/dist/main.js");
startKernel({ configPath: process.argv[2]!, enableFindLocal: false });
