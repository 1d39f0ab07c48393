import { type MessagePort, parentPort, type Worker } from "../../platform/index.js";

/**
 * Asks a thread to end by itself, after what it has been handed, and waits for it; one that is gone already is
 * no fault. A thread is never ended from outside: see `serveMessages`.
 */
export async function endThread(thread: Worker): Promise<void> {
  if (thread.threadId < 0) return;
  const ended = new Promise((resolve, reject) => {
    thread.once("exit", resolve);
    thread.once("error", reject);
  });
  thread.postMessage(null);
  await ended;
}

const restMilliseconds = 50;

/**
 * What a thread does with messages: an answer to each, and its end when it is asked to. It rests before it
 * ends: Node.js 20 aborts the whole process where a thread goes while its compiler is still at work
 * (`node_platform.cc`, "Assertion failed: (data.first) != nullptr").
 */
export function serveMessages<Message>(
  answer: (message: Message, port: MessagePort) => void,
): void {
  const port = parentPort;
  port?.on("message", (message: Message | null) => {
    if (message === null) setTimeout(() => port.close(), restMilliseconds);
    else answer(message, port);
  });
}
