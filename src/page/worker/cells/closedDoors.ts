/** What a browser gives a worker that leads out of the page, or to what the browser keeps. */
const doors = [
  ...["fetch", "fetchLater", "XMLHttpRequest", "WebSocket", "WebSocketStream", "WebTransport"],
  ...["EventSource", "importScripts", "Worker", "SharedWorker", "BroadcastChannel", "FontFace"],
  ...["indexedDB", "caches", "cookieStore", "storage", "localStorage", "sessionStorage"],
  ...["webkitRequestFileSystem", "webkitRequestFileSystemSync"],
  ...["webkitResolveLocalFileSystemURL", "webkitResolveLocalFileSystemSyncURL"],
  ...["postMessage", "Notification", "RTCPeerConnection", "fonts", "close"],
];

/**
 * Takes them from the worker before a cell runs: what asks for one gets an error in words. The page's policy
 * forbids every connection besides; what is kept here cannot be read by another page.
 */
export function closeDoors(scope: object): void {
  const { navigator } = scope as { navigator?: { userAgent?: string; language?: string } };
  const { userAgent, language } = navigator ?? {};
  for (const name of doors) {
    const refuse = () => {
      throw new Error(`${name} is closed to cells: nothing leaves a page, and nothing is kept`);
    };
    const has = remove(scope, name);
    if (!has) continue;
    const value = new Proxy(refuse, { get: refuse, set: refuse, construct: refuse, has: refuse });
    Object.defineProperty(scope, name, { value, configurable: false, writable: false });
  }
  // it leads to files, locks and workers that outlast the page
  remove(scope, "navigator");
  const value = Object.freeze({ userAgent, language });
  Object.defineProperty(scope, "navigator", { value, configurable: false, writable: false });
}

/** Takes a name from an object and from all that it inherits from; whether there was one. */
function remove(scope: object, name: string): boolean {
  let found = false;
  for (let owner: object | null = scope; owner !== null; owner = Object.getPrototypeOf(owner)) {
    if (!Object.hasOwn(owner, name)) continue;
    found = true;
    Reflect.deleteProperty(owner, name);
  }
  return found;
}
