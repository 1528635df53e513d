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
  readonly data64F: Float64Array;
  type(): number;
  channels(): number;
  clone(): Mat;
  roi(rect: Rect): Mat;
  convertTo(target: Mat, type: number, alpha?: number, beta?: number): void;
  setTo(scalar: readonly number[]): void;
  isContinuous(): boolean;
  delete(): void;
}
export interface MatVector {
  size(): number;
  get(index: number): Mat;
  push_back(mat: Mat): void;
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
export interface Point {
  readonly x: number;
  readonly y: number;
}
export interface Rect extends Size, Point {}

export interface Cv {
  Mat: {
    new (): Mat;
    new (rows: number, cols: number, type: number): Mat;
    new (rows: number, cols: number, type: number, scalar: readonly number[]): Mat;
  };
  MatVector: new () => MatVector;
  Size: new (width: number, height: number) => Size;
  Point: new (x: number, y: number) => Point;
  Rect: new (x: number, y: number, width: number, height: number) => Rect;
  Scalar: new (...values: number[]) => readonly number[];

  readonly CV_8UC1: number;
  readonly CV_8UC3: number;
  readonly CV_8UC4: number;
  readonly CV_16SC1: number;
  readonly CV_32SC1: number;
  readonly CV_32SC2: number;
  readonly CV_32FC1: number;
  readonly CV_32FC2: number;
  readonly CV_32FC3: number;
  readonly CV_64FC1: number;
  readonly CV_32F: number;
  readonly CV_16S: number;
  readonly COLOR_RGBA2RGB: number;
  readonly COLOR_RGBA2GRAY: number;
  readonly COLOR_RGB2Lab: number;
  readonly COLOR_RGB2HSV: number;
  readonly INTER_AREA: number;
  readonly INTER_LINEAR: number;
  readonly BORDER_REPLICATE: number;
  readonly BORDER_CONSTANT: number;
  readonly RETR_LIST: number;
  readonly RETR_EXTERNAL: number;
  readonly CHAIN_APPROX_NONE: number;
  readonly CHAIN_APPROX_SIMPLE: number;
  readonly GC_INIT_WITH_MASK: number;
  readonly SOLVEPNP_IPPE: number;
  readonly SOLVEPNP_ITERATIVE: number;

  cvtColor(source: Mat, target: Mat, code: number): void;
  resize(source: Mat, target: Mat, size: Size, fx: number, fy: number, interpolation: number): void;
  GaussianBlur(source: Mat, target: Mat, kernel: Size, sigmaX: number, sigmaY?: number, border?: number): void;
  medianBlur(source: Mat, target: Mat, kernel: number): void;
  Scharr(source: Mat, target: Mat, depth: number, dx: number, dy: number, scale?: number): void;
  Canny1(dx: Mat, dy: Mat, edges: Mat, low: number, high: number, l2: boolean): void;
  threshold(source: Mat, target: Mat, threshold: number, max: number, type: number): number;
  findContours(source: Mat, contours: MatVector, hierarchy: Mat, mode: number, method: number): void;
  approxPolyDP(curve: Mat, target: Mat, epsilon: number, closed: boolean): void;
  connectedComponentsWithStats(source: Mat, labels: Mat, stats: Mat, centroids: Mat): number;
  remap(source: Mat, target: Mat, mapX: Mat, mapY: Mat, interpolation: number, border?: number): void;
  grabCut(image: Mat, mask: Mat, rect: Rect, bgModel: Mat, fgModel: Mat, iterations: number, mode: number): void;
  projectPoints(object: Mat, rvec: Mat, tvec: Mat, camera: Mat, distortion: Mat, image: Mat): void;
  solvePnP(
    object: Mat,
    image: Mat,
    camera: Mat,
    distortion: Mat,
    rvec: Mat,
    tvec: Mat,
    useGuess: boolean,
    method: number,
  ): boolean;
  Rodrigues(source: Mat, target: Mat): void;
  findHomography(source: Mat, target: Mat): Mat;
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
  'medianBlur',
  'Scharr',
  'threshold',
  'findContours',
  'approxPolyDP',
  'connectedComponentsWithStats',
  'remap',
  'grabCut',
  'projectPoints',
  'solvePnP',
  'Rodrigues',
  'findHomography',
  'exceptionFromPtr',
] as const;
