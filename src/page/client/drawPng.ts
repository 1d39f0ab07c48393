import { packed } from "./packed.js";

let style: Promise<string> | undefined;

/** The bundled fonts for a picture, which sees no font of the page it is in. */
async function fontStyle(): Promise<string> {
  const face = async (id: string, weight: number) => {
    const bytes = await packed(id);
    let binary = "";
    for (let at = 0; at < bytes.length; at += 8192)
      binary += String.fromCharCode(...bytes.subarray(at, at + 8192));
    return `@font-face{font-family:"Source Sans 3";font-weight:${weight};src:url(data:font/ttf;base64,${btoa(binary)})}`;
  };
  return (await face("font-regular", 400)) + (await face("font-semibold", 600));
}

/** Draws an SVG as PNG of that many pixels across; null where the browser cannot. */
export async function drawPng(svg: string, width: number): Promise<Uint8Array | null> {
  style ??= fontStyle();
  const [, across, down] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
  const height = Math.round((width * Number(down)) / Number(across));
  const sized = svg.replace(
    /^<svg([^>]*?) width="[^"]*" height="[^"]*"([^>]*)>/,
    (_, before, after) =>
      `<svg${before} width="${width}" height="${height}"${after}><style>${style === undefined ? "" : "FONTS"}</style>`,
  );
  const image = new Image();
  const fonts = await style;
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(sized.replace("FONTS", () => fonts))}`;
  try {
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = width;
    canvas.height = height;
    const pen = canvas.getContext("2d");
    if (pen === null) return null;
    pen.fillStyle = "#ffffff";
    pen.fillRect(0, 0, width, height);
    pen.drawImage(image, 0, 0, width, height);
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
    return blob === null ? null : new Uint8Array(await blob.arrayBuffer());
  } catch {
    return null;
  }
}
