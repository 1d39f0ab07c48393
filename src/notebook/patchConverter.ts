import { createRequire } from "node:module";
import { longhand } from "./longhand.js";

interface Converter {
  convert(earlier: string, source: string): unknown;
}
interface ConverterModule {
  createConverter(options: object): Converter;
}
interface Compiler {
  sys: { watchDirectory?: () => { close(): void } };
}

/**
 * Makes the kernel's converter read each cell in long form (see `longhand` for why), and its compiler
 * watch no folders: tslab has one timer for all changes, and every cell after a change in a folder of
 * packages would fail on it. A package that is installed later is seen by the next kernel.
 */
export function patchConverter(): void {
  const require = createRequire(import.meta.url);
  const compiler: Compiler = createRequire(require.resolve("tslab/package.json"))(
    "@tslab/typescript-for-tslab",
  );
  compiler.sys.watchDirectory = () => ({ close() {} });
  const module: ConverterModule = require("tslab/dist/converter.js");
  const create = module.createConverter;
  module.createConverter = (options) => {
    const converter = create(options);
    const convert = converter.convert;
    return { ...converter, convert: (earlier, source) => convert(earlier, longhand(source)) };
  };
}
