import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer, connect, type AddressInfo, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathOf } from "./program.js";

/** A Firefox without a window, by its own remote protocol (Marionette): "length:[0, id, command, parameters]". */
export interface Firefox {
  open(address: string): Promise<void>;
  /** Runs the body of a function in the page. */
  run<T>(body: string, ...given: readonly unknown[]): Promise<T>;
  /** Runs it again and again until it gives something, ten minutes at most. */
  until<T>(body: string, ...given: readonly unknown[]): Promise<T>;
  /** Chooses files in the input that a selector finds. */
  choose(selector: string, paths: readonly string[]): Promise<void>;
  /** The folder to which the page saves. */
  readonly saved: string;
  end(): Promise<void>;
}

export async function startFirefox(): Promise<Firefox> {
  const port = await freePort();
  const profile = mkdtempSync(join(tmpdir(), "meridional-firefox-"));
  // a proxy that is not there: what asked for a network would get none
  const saved = join(profile, "saved");
  mkdirSync(saved);
  const preferences = {
    "browser.download.folderList": 2,
    "browser.download.dir": saved,
    "browser.download.always_ask_before_handling_new_types": false,
    "browser.helperApps.neverAsk.saveToDisk": "application/json,application/zip",
    "marionette.port": port,
    "network.proxy.type": 1,
    "network.proxy.http": "127.0.0.1",
    "network.proxy.http_port": 9,
    "network.proxy.ssl": "127.0.0.1",
    "network.proxy.ssl_port": 9,
    "dom.disable_beforeunload": true,
  };
  writeFileSync(
    join(profile, "user.js"),
    Object.entries(preferences)
      .map(([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});\n`)
      .join(""),
  );
  const child = spawn(
    pathOf("firefox-esr"),
    ["--headless", "--marionette", "--no-remote", "-profile", profile],
    { stdio: "ignore" },
  );
  const socket = await connected(port);
  const call = caller(socket);
  await call("WebDriver:NewSession", {});
  await call("WebDriver:SetTimeouts", { script: 600_000 });
  const run = async <T>(script: string, ...args: readonly unknown[]): Promise<T> => {
    const { value } = (await call("WebDriver:ExecuteScript", { script, args })) as { value: T };
    return value;
  };
  return {
    open: async (url) => void (await call("WebDriver:Navigate", { url })),
    run,
    async until<T>(script: string, ...args: readonly unknown[]) {
      for (const end = Date.now() + 600_000; ; ) {
        const found = await run<T | null>(script, ...args);
        if (found !== null && found !== undefined && found !== false) return found;
        if (Date.now() > end) throw new Error(`nothing came of ${script} ${args.join(", ")}`);
        await pause(200);
      }
    },
    async choose(selector, paths) {
      const { value } = (await call("WebDriver:FindElement", {
        using: "css selector",
        value: selector,
      })) as { value: { readonly [key: string]: string } };
      const [id] = Object.values(value);
      await call("WebDriver:ElementSendKeys", { id, text: paths.join("\n") });
    },
    saved,
    async end() {
      const ended = new Promise((done) => child.once("exit", done));
      socket.destroy();
      child.kill();
      await ended;
      rmSync(profile, { recursive: true, force: true });
    },
  };
}

const pause = (ms: number) => new Promise((done) => setTimeout(done, ms));

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const { port } = server.address() as AddressInfo;
  await new Promise((done) => server.close(done));
  return port;
}

/** It takes a while until it listens. */
async function connected(port: number): Promise<Socket> {
  for (let tries = 0; ; tries++) {
    try {
      return await new Promise<Socket>((done, refuse) => {
        const socket = connect(port, "127.0.0.1", () => done(socket));
        socket.once("error", refuse);
      });
    } catch (error) {
      if (tries > 120) throw error;
      await pause(500);
    }
  }
}

function caller(socket: Socket) {
  const waiting = new Map<number, { done(answer: unknown): void; refuse(error: Error): void }>();
  let buffer = Buffer.alloc(0);
  let count = 0;
  socket.on("data", (data) => {
    buffer = Buffer.concat([buffer, data as Buffer]);
    for (let colon = buffer.indexOf(":"); colon > 0; colon = buffer.indexOf(":")) {
      const end = colon + 1 + Number(buffer.subarray(0, colon));
      if (buffer.length < end) return;
      const message = JSON.parse(buffer.subarray(colon + 1, end).toString());
      buffer = buffer.subarray(end);
      // the first one is a greeting
      if (!Array.isArray(message)) continue;
      const [, id, error, answer] = message;
      if (error) waiting.get(id)?.refuse(new Error(JSON.stringify(error)));
      else waiting.get(id)?.done(answer);
      waiting.delete(id);
    }
  });
  socket.on("close", () => {
    for (const { refuse } of waiting.values()) refuse(new Error("Firefox has gone"));
  });
  return (command: string, parameters: object): Promise<unknown> =>
    new Promise((done, refuse) => {
      count++;
      waiting.set(count, { done, refuse });
      const text = JSON.stringify([0, count, command, parameters]);
      socket.write(`${Buffer.byteLength(text)}:${text}`);
    });
}
