declare module 'libheif-js/libheif-wasm/libheif-bundle.mjs' {
  interface HeifImage {
    get_width(): number;
    get_height(): number;
    display(target: Pick<ImageData, 'data' | 'width' | 'height'>, done: (shown: unknown) => void): void;
    free(): void;
  }
  interface Heif {
    HeifDecoder: new () => { decode(bytes: Uint8Array): HeifImage[] };
  }
  export default function createHeif(): Promise<Heif> | Heif;
}
