import type { Progress } from "../results/index.js";

/** Progress on one line of the terminal; one line a stage where the output is no terminal. */
export function progressLine(): { show(progress: Progress): void; end(): void } {
  const { stderr } = process;
  let last = "";
  return {
    show({ stage, done }) {
      if (stderr.isTTY) {
        stderr.write(`\r\x1b[K${stage} ${Math.round(done * 100)} %`);
      } else if (stage !== last) {
        stderr.write(`${stage}\n`);
      }
      last = stage;
    },
    end() {
      if (stderr.isTTY) stderr.write("\r\x1b[K");
    },
  };
}
