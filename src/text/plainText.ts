// What is no letter and no sign that can be printed, made of code points: none of them could be read here.

const sign = (...codes: readonly number[]) =>
  codes.map((code) => String.fromCharCode(code)).join("");
const range = (from: number, to: number) => `${sign(from)}-${sign(to)}`;
const [bell, esc, csi, end] = [sign(0x07), sign(0x1b), sign(0x9b), sign(0x9c)];
/** Half characters without their other half, and what is no character. */
const halves = new RegExp(
  `[${range(0xd800, 0xdbff)}](?![${range(0xdc00, 0xdfff)}])|(?<![${range(0xd800, 0xdbff)}])[${range(0xdc00, 0xdfff)}]|[${sign(0xfffe, 0xffff)}]`,
  "g",
);
/** Commands to a terminal: texts that begin with OSC, DCS, PM or APC; then ESC or CSI with what belongs to it. */
const commands = new RegExp(
  `(?:${esc}[\\]P^_X]|[${sign(0x90, 0x98, 0x9d, 0x9e, 0x9f)}])[^${bell}${esc}${end}]*(?:${bell}|${esc}\\\\|${end}|$)` +
    `|(?:${esc}\\[|${csi})[0-?]*[ -/]*[@-~]?|${esc}[ -/]*[0-~]?`,
  "g",
);
/** Overrides of the direction of writing, which can make a text read otherwise than it is. */
const directions = [sign(0x61c), range(0x202a, 0x202e), range(0x2066, 0x2069)].join("");
const breaks = sign(0x0b, 0x0c, 0x85, 0x2028, 0x2029);
const controls = [range(0x00, 0x08), range(0x0e, 0x1f), range(0x7f, 0x9f)].join("");
const hostile = new RegExp(
  `[${controls}${breaks}${sign(0x0d)}${directions}${range(0xd800, 0xdfff)}${sign(0xfffe, 0xffff)}]`,
);
const taken = new RegExp(`[${controls}${directions}]`, "g");
const spaces = new RegExp(`[${breaks}]`, "g");

/**
 * A text that leaves the program, as letters and signs alone: commands to a terminal, control
 * characters and overrides of the direction of writing are taken out, half characters become the
 * replacement character, other breaks of a line or page a space. Tabs and line feeds stay.
 */
export function plainText(text: string): string {
  if (!hostile.test(text)) return text;
  return text
    .replace(/\r\n?/g, "\n")
    .replace(commands, "")
    .replace(spaces, " ")
    .replace(taken, "")
    .replace(halves, "\ufffd");
}

/** `plainText` of every text in plain data, such as a report. @param except keys whose values are left as they are */
export function plainTexts<Data>(data: Data, except: readonly string[] = []): Data {
  return eachText(data, plainText, except);
}

/**
 * Plain data with each of its texts changed; what holds none to change stays the object that it is.
 *
 * @param except keys whose values are left as they are
 */
export function eachText<Data>(
  data: Data,
  change: (text: string) => string,
  except: readonly string[] = [],
): Data {
  if (typeof data === "string") return change(data) as Data;
  if (typeof data !== "object" || data === null || ArrayBuffer.isView(data)) return data;
  if (Array.isArray(data)) {
    const list = data.map((one) => eachText(one, change, except));
    return list.every((one, at) => one === data[at]) ? data : (list as Data);
  }
  if (Object.getPrototypeOf(data) !== Object.prototype) return data;
  const entries = Object.entries(data).map(([key, one]): [string, unknown] => [
    key,
    except.includes(key) ? one : eachText(one, change, except),
  ]);
  const same = entries.every(([key, one]) => one === (data as Record<string, unknown>)[key]);
  return same ? data : (Object.fromEntries(entries) as Data);
}
