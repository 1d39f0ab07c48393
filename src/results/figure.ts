/** A figure as data: a Vega-Lite specification with what a page needs around it. */
export interface FigureSpec {
  readonly kind: "figure";
  /** File name stem, such as "difference-against-mean". */
  readonly name: string;
  readonly title: string;
  /** Printed below the figure; says n and the method. */
  readonly caption: string;
  /** Text for those who cannot see it: n, the estimate and its interval. */
  readonly alt: string;
  readonly widthMm: number;
  readonly heightMm: number;
  /** The Vega-Lite specification. */
  readonly spec: { readonly [key: string]: unknown };
}
