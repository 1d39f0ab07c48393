// What is used of a library, so that types do not hang on its being installed.
declare module "write-excel-file/node" {
  interface Cell {
    readonly value: string | number;
    readonly type: StringConstructor | NumberConstructor;
    readonly format?: string;
    readonly fontWeight?: "bold";
  }
  interface Sheet {
    readonly sheet: string;
    readonly data: readonly (readonly (Cell | null)[])[];
    readonly columns?: readonly { readonly width: number }[];
  }
  export default function writeXlsxFile(sheets: readonly Sheet[]): {
    toBuffer(): Promise<Uint8Array>;
  };
}
declare module "write-excel-file/universal" {
  import type writeNode from "write-excel-file/node";
  export default function writeXlsxFile(sheets: Parameters<typeof writeNode>[0]): {
    toBlob(): Promise<Blob>;
  };
}
