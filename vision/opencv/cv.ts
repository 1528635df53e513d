/**
 * The part of OpenCV.js that Roundwise uses, as it really exists at run time.
 * The package's own typings declare many functions that are missing from the build, so we keep this short list
 * and `loadOpenCv` checks each name once at start.
 */
export interface Mat {
  readonly rows: number;
  readonly cols: number;
  /** Views into the WebAssembly heap: empty after it grows, so copy before the next allocation. */
  readonly data: Uint8Array;
  readonly data32F: Float32Array;
  readonly data32S: Int32Array;
  type(): number;
  channels(): number;
  delete(): void;
}
export interface MatVector {
  size(): number;
  get(index: number): Mat;
  delete(): void;
}
export interface Net {
  setInput(blob: Mat, name?: string): void;
  forward(outputName?: string): Mat;
  /** Several outputs in one pass; `outputs` is filled in the order of the names. */
  forward2(outputs: MatVector, outputNames: readonly string[]): void;
  delete(): void;
}
export interface Size {
  readonly width: number;
  readonly height: number;
}

export interface Cv {
  Mat: {
    new (): Mat;
    new (rows: number, cols: number, type: number): Mat;
    new (rows: number, cols: number, type: number, scalar: readonly number[]): Mat;
  };
  MatVector: new () => MatVector;
  Size: new (width: number, height: number) => Size;
  Scalar: new (...values: number[]) => readonly number[];

  readonly CV_8UC1: number;
  readonly CV_8UC4: number;
  readonly CV_32F: number;
  readonly CV_16S: number;
  readonly COLOR_RGBA2RGB: number;
  readonly INTER_AREA: number;
  readonly RETR_LIST: number;
  readonly CHAIN_APPROX_NONE: number;

  cvtColor(source: Mat, target: Mat, code: number): void;
  resize(source: Mat, target: Mat, size: Size, fx: number, fy: number, interpolation: number): void;
  GaussianBlur(source: Mat, target: Mat, kernel: Size, sigmaX: number, sigmaY?: number, border?: number): void;
  Scharr(source: Mat, target: Mat, depth: number, dx: number, dy: number, scale?: number): void;
  Canny1(dx: Mat, dy: Mat, edges: Mat, low: number, high: number, l2: boolean): void;
  findContours(source: Mat, contours: MatVector, hierarchy: Mat, mode: number, method: number): void;
  readNetFromONNX(path: string): Net;
  /** 1 by channels by height by width floats: (pixel - mean) · scale. */
  blobFromImage(
    image: Mat,
    scale: number,
    size: Size,
    mean: readonly number[],
    swapRedAndBlue: boolean,
    crop: boolean,
    depth: number,
  ): Mat;
  FS_createDataFile(parent: string, name: string, data: Uint8Array, read: boolean, write: boolean, own: boolean): void;
  FS_unlink(path: string): void;
  exceptionFromPtr(pointer: number): { readonly msg: string };
}

/** Names `loadOpenCv` requires to be functions before anything else runs. */
export const REQUIRED_FUNCTIONS = [
  'cvtColor',
  'resize',
  'GaussianBlur',
  'Scharr',
  'Canny1',
  'findContours',
  'readNetFromONNX',
  'blobFromImage',
  'exceptionFromPtr',
] as const;
