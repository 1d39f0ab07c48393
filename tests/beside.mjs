// Runs scripts of package.json beside each other: node tests/beside.mjs one two,three runs "one" beside "two" and then
// "three". What each says is printed when it has ended; the first that fails ends all.
import { spawn } from "node:child_process";

const run = (script) =>
  new Promise((done, fail) => {
    const child = spawn("npm", ["run", script], { stdio: ["ignore", "pipe", "pipe"], shell: process.platform === "win32" });
    let said = "";
    for (const stream of [child.stdout, child.stderr]) stream.on("data", (part) => (said += part));
    child.on("close", (code) => {
      process.stdout.write(said);
      if (code === 0) done();
      else fail(new Error(`npm run ${script} ended with ${code}`));
    });
  });

const rows = process.argv.slice(2).map((scripts) => scripts.split(","));
try {
  await Promise.all(
    rows.map(async (scripts) => {
      for (const script of scripts) await run(script);
    }),
  );
} catch (error) {
  console.error(error.message);
  process.exit(1);
}
