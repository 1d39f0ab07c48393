import { writeFileWhole } from "../../platform/index.js";
import { csvCell } from "../../text/index.js";

/** A column of a study file: a text for each distinct code, or a text for each row, of letters and digits. */
export type StudyColumn = { readonly name: string } & (
  | { readonly codes: Int32Array; readonly labels: readonly string[] }
  | { readonly text: (row: number) => string }
);

/** Writes rows as CSV, in the given order; nothing is left behind when it fails. */
export async function writeStudyFile(
  path: string,
  columns: readonly StudyColumn[],
  rows: Int32Array,
  onRows: (share: number) => void = () => {},
): Promise<void> {
  const cells = columns.map((column) => {
    if ("text" in column) return column.text;
    const labels = column.labels.map(csvCell);
    const { codes } = column;
    return (row: number) => labels[codes[row]];
  });
  await writeFileWhole(
    path,
    async (file) => {
      await file.write(`${columns.map(({ name }) => csvCell(name)).join(",")}\n`);
      for (let from = 0; from < rows.length; from += 50_000) {
        let text = "";
        const to = Math.min(rows.length, from + 50_000);
        for (let at = from; at < to; at++) {
          const row = rows[at];
          text += cells[0](row);
          for (let column = 1; column < cells.length; column++) text += `,${cells[column](row)}`;
          text += "\n";
        }
        await file.write(text);
        onRows(to / rows.length);
      }
    },
    { caller: "prepareFiles", private: true },
  );
}
