import type { FileChild } from "docx";
import type { FigureSpec } from "../../results/index.js";
import { printSigns } from "../../rows/index.js";
import { captionRuns, type Docx, wordFile, wordTable, wordTextWidth } from "../../tables/index.js";
import type { Report, ReportBlock } from "../report/report.js";
import { cleaned } from "./cleaned.js";
import { type DrawnFigure, drawingOf } from "./drawnFigure.js";
import { numbersOf, referredByNumber } from "./numbered.js";

/**
 * A report as a Word document (.docx): headings, tables and text to be edited as any other; figures
 * as PNG with their alternative text. Equal reports give equal bytes.
 *
 * @param figures the drawn figures, by name
 */
export async function reportWord(
  given: Report,
  figures: ReadonlyMap<string, DrawnFigure>,
): Promise<Uint8Array> {
  const report = referredByNumber(cleaned(given));
  const numbers = numbersOf(report);
  const { style } = report;
  const docx = await import("docx");
  const { HeadingLevel, Paragraph } = docx;
  let drawn = 0;
  const parts = (block: ReportBlock): FileChild[] => {
    switch (block.kind) {
      case "paragraph":
        return [paragraph(docx, block.text, block.emphasis)];
      case "list":
        return block.items.map(
          (text) =>
            new Paragraph({
              text: printSigns(text),
              bullet: { level: 0 },
              indent: { left: 300, hanging: 220 },
              spacing: { after: 70 },
            }),
        );
      case "table":
        return wordTable(docx, block, {
          number: numbers.of(block),
          numbers: style.numbers,
          width: Math.min(
            wordTextWidth,
            style.columnMm === null ? Infinity : style.columnMm[1] * twentiethsPerMm,
          ),
        });
      case "figure":
        return figure(docx, block, drawingOf(block, figures), {
          id: ++drawn,
          number: numbers.of(block),
        });
      case "bench":
      case "rule-bench":
        return [paragraph(docx, block.elsewhere)];
    }
  };
  return wordFile({
    title: report.title,
    footer: report.title,
    children: [
      paragraph(docx, report.statement, "headline"),
      new Paragraph({ text: report.title, heading: HeadingLevel.TITLE }),
      paragraph(docx, report.caution, "caution"),
      ...report.sections.flatMap(({ title, blocks }) => [
        new Paragraph({ text: title, heading: HeadingLevel.HEADING_1, keepNext: true }),
        ...blocks.flatMap(parts),
      ]),
    ],
  });
}

const twentiethsPerMm = (20 * 72) / 25.4;

function paragraph(
  { Paragraph, TextRun, BorderStyle, ShadingType }: Docx,
  text: string,
  emphasis?: "caution" | "headline",
) {
  return new Paragraph({
    children: [new TextRun({ text: printSigns(text), bold: emphasis === "headline" })],
    ...(emphasis === "caution"
      ? {
          keepLines: true,
          shading: { type: ShadingType.CLEAR, fill: "F1ECDD" },
          border: { left: { style: BorderStyle.SINGLE, size: 24, space: 6, color: "1C2430" } },
          indent: { left: 160 },
        }
      : {}),
  });
}

/** A picture at the size it was drawn for, or at the width of the text where that is less. */
function figure(
  docx: Docx,
  { name, title, alt, caption }: FigureSpec,
  { png, widthPoints, heightPoints }: DrawnFigure,
  { id, number }: { readonly id: number; readonly number: string },
): FileChild[] {
  const { ImageRun, Paragraph } = docx;
  const scale = Math.min(1, wordTextWidth / 20 / widthPoints);
  const pixels = (points: number) => Math.round((scale * points * 96) / 72);
  return [
    new Paragraph({
      keepNext: true,
      spacing: { before: 240, after: 40, line: 240, lineRule: "auto" },
      children: [
        new ImageRun({
          type: "png",
          data: png,
          transformation: { width: pixels(widthPoints), height: pixels(heightPoints) },
          altText: { id: String(id), name, title, description: alt },
        }),
      ],
    }),
    new Paragraph({ style: "FigureCaption", children: captionRuns(docx, number, caption) }),
  ];
}
