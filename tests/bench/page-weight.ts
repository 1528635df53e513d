import { readdirSync, readFileSync } from 'node:fs';
import { brotliCompressSync, gzipSync } from 'node:zlib';

/** What a part of the page weighs, as files lie on the server and as they travel. */
export interface Weight {
  readonly part: string;
  readonly files: number;
  readonly rawKb: number;
  readonly gzipKb: number;
  readonly brotliKb: number;
  readonly targetKb: number | null;
}

const CODE = /\.(js|css|html|wasm|onnx|svg|webmanifest|woff2)$/;
const PARTS: readonly (readonly [string, RegExp])[] = [
  ['OpenCV', /opencv/],
  ['outline network', /\.onnx$/],
  ['HEIC decoder, fetched only for HEIC photos', /heic|libheif/],
];
const APP = 'app code, without OpenCV, network and HEIC decoder';

/**
 * Weighs a built page, without sample photos and icons.
 * @param firstLoad  names of the files that the page fetches before it is ready for a photo
 */
export function weighPage(outDir: string, firstLoad: readonly string[]): { parts: Weight[]; chunks: Weight[] } {
  const names = readdirSync(outDir, { recursive: true, encoding: 'utf8' }).filter((name) => CODE.test(name));
  const chunks = names.map((name) => weigh(name, readFileSync(`${outDir}/${name}`)));
  const partOf = (name: string) => PARTS.find(([, pattern]) => pattern.test(name))?.[0] ?? APP;
  const parts = [APP, ...PARTS.map(([part]) => part)].map((part) =>
    sum(
      part,
      chunks.filter((chunk) => partOf(chunk.part) === part),
      part === APP ? 200 : null,
    ),
  );
  const first = chunks.filter(({ part }) => firstLoad.includes(part));
  return { parts: [sum('first load, before the page is ready for a photo', first, null), ...parts], chunks };
}

function weigh(name: string, bytes: Buffer): Weight {
  return {
    part: name,
    files: 1,
    rawKb: bytes.length / 1000,
    gzipKb: gzipSync(bytes, { level: 9 }).length / 1000,
    brotliKb: brotliCompressSync(bytes).length / 1000,
    targetKb: null,
  };
}

function sum(part: string, weights: readonly Weight[], targetKb: number | null): Weight {
  const total = (of: (weight: Weight) => number) => weights.reduce((all, weight) => all + of(weight), 0);
  return {
    part,
    files: weights.length,
    rawKb: total(({ rawKb }) => rawKb),
    gzipKb: total(({ gzipKb }) => gzipKb),
    brotliKb: total(({ brotliKb }) => brotliKb),
    targetKb,
  };
}
