// Builds dist/: the compiler's files, and the public face once more as one file, which loads in a fraction of the
// time that its 600 modules take. Flags, such as --noCheck, go to the compiler.
import { spawnSync } from "node:child_process";
import { basename, join } from "node:path";
import { rolldown } from "rolldown";

const root = join(import.meta.dirname, "..");
const asWritten = [
  "accuracy/logitRatio.js",
  "accuracy/shareAtOdds.js",
  "inference/wilsonInterval.js",
  "study/publish/benchPage.js",
  "study/publish/benchReadout.js",
  "study/publish/ruleBenchPage.js",
].map((file) => ({ id: `../../${file}`, external: true }));
const { status } = spawnSync(
  process.execPath,
  [join(root, "node_modules/typescript/bin/tsc"), "-p", join(root, "tsconfig.build.json"), ...process.argv.slice(2)],
  { stdio: "inherit" },
);
if (status !== 0) process.exit(status ?? 1);

const build = await rolldown({
  input: join(root, "dist/face.js"),
  platform: "node",
  // Libraries are loaded as before, many of them at their first use alone; and a report's script is the text
  // of a few functions, which a bundler would write in its own way.
  external: (name) => !/^[./]/.test(name),
  makeAbsoluteExternalsRelative: false,
  plugins: [{ name: "as-written", resolveId: (name) => asWritten.find(({ id }) => id.endsWith(`/${basename(name)}`)) }],
  onLog(level, log) {
    if (level === "warn") throw new Error(log.message);
  },
});
// two folders deep, as the modules that look for the package's files by their own place
await build.write({ file: join(root, "dist/one/file/face.js"), format: "esm", codeSplitting: false });
