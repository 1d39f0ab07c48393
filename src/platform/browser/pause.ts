/** The little of a browser's ports that is used here. */
interface Port {
  onmessage: (() => void) | null;
  postMessage(message: 0): void;
}

const waiting: (() => void)[] = [];
let ports: { readonly port1: Port; readonly port2: Port } | undefined;

/** By a message to oneself: a timer would wait 4 milliseconds. */
export function pause(): Promise<void> {
  if (ports === undefined) {
    ports = new MessageChannel() as unknown as { readonly port1: Port; readonly port2: Port };
    ports.port1.onmessage = () => waiting.shift()?.();
  }
  const { port2 } = ports;
  return new Promise((resolve) => {
    waiting.push(resolve);
    port2.postMessage(0);
  });
}
