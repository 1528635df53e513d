/** A live picture from the rear camera. */
export interface Camera {
  readonly stream: MediaStream;
  /** Null where the camera has no lamp. */
  readonly lamp: ((on: boolean) => Promise<void>) | null;
  /** One picture at the camera's full size, or as the live picture shows it where the browser can do no better. */
  readonly still: (live: HTMLVideoElement) => Promise<Blob | null>;
  readonly close: () => void;
}

export type CameraTrouble = 'denied' | 'none';

/** More than any phone's live picture; the browser gives what there is. */
const MOST_PX = 4096;
/** Photos hardly gain by more. */
const STILL_QUALITY = 0.95;

/** @returns the camera, or why there is none: somebody said no, or nothing is there to look through */
export async function openCamera(): Promise<Camera | CameraTrouble> {
  if (!navigator.mediaDevices?.getUserMedia) return 'none';
  try {
    const stream = await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: { facingMode: 'environment', width: { ideal: MOST_PX }, height: { ideal: MOST_PX } },
    });
    const [track] = stream.getVideoTracks();
    return {
      stream,
      lamp: lampOf(track),
      still: (live) => stillOf(track, live),
      close: () => {
        for (const each of stream.getTracks()) each.stop();
      },
    };
  } catch (thrown) {
    const name = thrown instanceof Error ? thrown.name : '';
    return name === 'NotAllowedError' || name === 'SecurityError' ? 'denied' : 'none';
  }
}

/** Not in every browser's types, nor in every browser. */
interface LampCapability extends MediaTrackCapabilities {
  readonly torch?: boolean;
}

function lampOf(track: MediaStreamTrack): Camera['lamp'] {
  const capabilities: LampCapability = track.getCapabilities?.() ?? {};
  if (!capabilities.torch) return null;
  return (on) => track.applyConstraints({ advanced: [{ torch: on } as MediaTrackConstraintSet] }).catch(() => {});
}

interface StillTaker {
  takePhoto(): Promise<Blob>;
}

async function stillOf(track: MediaStreamTrack, live: HTMLVideoElement): Promise<Blob | null> {
  const { ImageCapture } = globalThis as { ImageCapture?: new (track: MediaStreamTrack) => StillTaker };
  // a track that has just ended lets nobody take anything
  const full = async () => ImageCapture && new ImageCapture(track).takePhoto();
  const taken = await full().catch(() => null);
  return taken ?? frameOf(live, Number.POSITIVE_INFINITY, STILL_QUALITY);
}

/** The live picture as it is now, as a JPEG whose long side is at most so many px; null before the first frame. */
export async function frameOf(live: HTMLVideoElement, longSidePx: number, quality: number): Promise<Blob | null> {
  const drawn = drawFrame(live, longSidePx);
  return drawn && new Promise((resolve) => drawn.toBlob(resolve, 'image/jpeg', quality));
}

/** Size of the live picture with a long side of at most so many px. */
export function frameSize({ videoWidth, videoHeight }: HTMLVideoElement, longSidePx: number) {
  const scale = Math.min(1, longSidePx / Math.max(videoWidth, videoHeight));
  return { widthPx: Math.round(videoWidth * scale), heightPx: Math.round(videoHeight * scale) };
}

/** The live picture drawn small enough; null before the first frame. */
export function drawFrame(live: HTMLVideoElement, longSidePx: number): HTMLCanvasElement | null {
  if (live.videoWidth === 0) return null;
  const { widthPx, heightPx } = frameSize(live, longSidePx);
  const canvas = document.createElement('canvas');
  canvas.width = widthPx;
  canvas.height = heightPx;
  canvas.getContext('2d')?.drawImage(live, 0, 0, canvas.width, canvas.height);
  return canvas;
}
