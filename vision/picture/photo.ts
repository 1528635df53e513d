/** Decoded pixels of one photo, upright (EXIF rotation applied), full size. */
export interface Photo {
  readonly widthPx: number;
  readonly heightPx: number;
  /** RGBA, 8 bit, row by row: length 4 · widthPx · heightPx. */
  readonly rgba: Uint8Array | Uint8ClampedArray;
  readonly lens: LensFacts;
}

/** What the file's metadata says about the lens; every field may be missing or wrong. */
export interface LensFacts {
  /** 35 mm-equivalent focal length by the diagonal convention, digital zoom included. */
  readonly focal35Mm: number | null;
  /** True when pixel size or aspect ratio suggest that the picture was cropped after it was taken. */
  readonly looksCropped: boolean;
  /** Diagonal of what the lens drew, where that is not the whole picture: a screenshot has bars about it. */
  readonly frameDiagonalPx?: number;
}

/** Prior for the focal length in pixels of the upright full-size image. */
export interface FocalPrior {
  readonly focalPx: number;
  /** Standard uncertainty of ln(focalPx). */
  readonly relativeSd: number;
  readonly source: 'exif' | 'given' | 'typical-phone';
}
