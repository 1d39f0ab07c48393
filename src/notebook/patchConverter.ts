import { createRequire } from "node:module";
import { type Completion, completeImport } from "./completeImport.js";
import { type Diagnostic, withCures } from "./diagnosticCures.js";
import { longhand } from "./longhand.js";

/** The kernel's converter, as much of it as is used. */
export interface Converter {
  convert(earlier: string, source: string): { readonly diagnostics?: readonly Diagnostic[] };
  complete(earlier: string, source: string, position: number): Completion;
}
interface ConverterModule {
  createConverter(options: object): Converter;
}
interface Compiler {
  sys: { watchDirectory?: () => { close(): void } };
}

/**
 * Makes the kernel's converter read each cell in long form (see `longhand` for why), say what would help
 * where a message does not, and complete names within an import; and its compiler
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
    const { convert, complete } = converter;
    return {
      ...converter,
      convert(earlier, source) {
        const long = longhand(source);
        const converted = convert(earlier, long);
        return withCures(
          converted,
          long,
          (position) => complete(earlier, long, position).candidates,
        );
      },
      complete: (earlier, source, position) =>
        completeImport(source, position, (text) => complete(earlier, text, text.length)) ??
        complete(earlier, source, position),
    };
  };
}
