declare module 'subset-font' {
  export default function subsetFont(
    font: Buffer,
    letters: string,
    options: {
      readonly targetFormat: 'woff2';
      readonly variationAxes: Readonly<Record<string, number | { readonly min: number; readonly max: number }>>;
    },
  ): Promise<Buffer>;
}
