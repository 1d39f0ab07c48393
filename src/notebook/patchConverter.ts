import { createRequire } from "node:module";
import { longhand } from "./longhand.js";

interface Converter {
  convert(earlier: string, source: string): unknown;
}
interface ConverterModule {
  createConverter(options: object): Converter;
}

/** Makes the kernel's converter read each cell in long form; see `longhand` for why. */
export function patchConverter(): void {
  const module: ConverterModule = createRequire(import.meta.url)("tslab/dist/converter.js");
  const create = module.createConverter;
  module.createConverter = (options) => {
    const converter = create(options);
    const convert = converter.convert;
    return { ...converter, convert: (earlier, source) => convert(earlier, longhand(source)) };
  };
}
