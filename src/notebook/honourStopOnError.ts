import { createRequire } from "node:module";

interface Queue {
  add<Value>(task: () => Promise<Value>): Promise<Value>;
}
interface Request {
  readonly stop_on_error?: boolean;
}
interface Reply {
  readonly status: string;
  readonly execution_count?: number;
}
interface Handler {
  readonly execQueue: Queue;
  handleExecute(request: Request, ...writers: unknown[]): Promise<Reply>;
  handleExecuteImpl(request: Request, ...writers: unknown[]): Promise<{ count: number }>;
}
interface JupyterModule {
  readonly JupyterHandlerImpl: { readonly prototype: Handler };
}
interface UtilModule {
  readonly TaskQueue: { readonly prototype: { reset(delay?: number): void } };
}

/** Long enough for what lies in the socket when a cell fails, too short for a reader's next cell. */
const milliseconds = 20;

/**
 * Makes the kernel do what Jupyter's messages say of a cell that fails: with `stop_on_error: false` the cells
 * that wait behind it run all the same; without it they are given up, and only they: a cell that
 * is sent a moment later runs.
 */
export function honourStopOnError(): void {
  const require = createRequire(import.meta.url);
  const { JupyterHandlerImpl }: JupyterModule = require("tslab/dist/jupyter.js");
  const { TaskQueue }: UtilModule = require("tslab/dist/util.js");
  const { reset } = TaskQueue.prototype;
  TaskQueue.prototype.reset = function (delay) {
    reset.call(this, delay && Math.min(delay, milliseconds));
  };
  const handler = JupyterHandlerImpl.prototype;
  const stopping = handler.handleExecute;
  handler.handleExecute = async function (request, ...writers) {
    if (request.stop_on_error !== false) {
      const reply = await stopping.call(this, request, ...writers);
      return reply.status === "abort" ? { ...reply, status: "aborted" } : reply;
    }
    return await this.execQueue.add(async () => {
      try {
        const { count } = await this.handleExecuteImpl(request, ...writers);
        return { status: "ok", execution_count: count };
      } catch (failed) {
        return { status: "error", execution_count: (failed as { count?: number }).count };
      }
    });
  };
}
