import { sendPicture } from "./connection.ts";

/** Where a browser can read codes by itself (Shape Detection API; not in every browser, and not in TypeScript's own list). */
interface CodeReader {
  detect(source: CanvasImageSource): Promise<readonly { readonly rawValue: string }[]>;
}
declare global {
  interface Window {
    readonly BarcodeDetector?: new (options: { readonly formats: readonly string[] }) => CodeReader;
  }
}

/** How often a frame is looked at, in milliseconds between two; the bench reads at most two a second for a phone that cannot. */
const LOOK_MS = 700;
const LONGEST_SIDE = 1600;

/** Looks through the camera until a label was read. Undefined where somebody gave up; "no camera" where there is none. */
export const scanLabel = async (
  video: HTMLVideoElement,
  gaveUp: Promise<void>,
): Promise<string | undefined | "no camera"> => {
  let stream: MediaStream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  } catch {
    return "no camera";
  }
  let over = false;
  void gaveUp.then(() => {
    over = true;
  });
  video.srcObject = stream;
  await video.play();
  const reader = await codeReader();
  let text: string | undefined;
  while (!over && text === undefined) {
    text = await readFrame(video, reader);
    if (text === undefined) await Promise.race([gaveUp, pause(LOOK_MS)]);
  }
  for (const track of stream.getTracks()) track.stop();
  video.srcObject = null;
  return text;
};

const pause = (time: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, time));

const codeReader = async (): Promise<CodeReader | undefined> => {
  try {
    return window.BarcodeDetector && new window.BarcodeDetector({ formats: ["qr_code", "code_128"] });
  } catch {
    return undefined;
  }
};

const readFrame = async (video: HTMLVideoElement, reader: CodeReader | undefined): Promise<string | undefined> => {
  if (video.videoWidth === 0) return undefined;
  try {
    if (reader) return (await reader.detect(video))[0]?.rawValue.trim() || undefined;
  } catch {
    // This browser names the reader and has none: the bench reads.
  }
  const picture = await drawn(video, video.videoWidth, video.videoHeight);
  return picture && (await sendPicture("/label", picture)).text;
};

/** A photo made small, upright, and without anything but the picture; undefined where the browser cannot read it. */
export const smallPhoto = async (file: Blob): Promise<Blob | undefined> => {
  try {
    const bitmap = await createImageBitmap(file);
    return await drawn(bitmap, bitmap.width, bitmap.height);
  } catch {
    return undefined;
  }
};

const drawn = (source: CanvasImageSource, width: number, height: number): Promise<Blob | undefined> => {
  const scale = Math.min(1, LONGEST_SIDE / Math.max(width, height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  canvas.getContext("2d")?.drawImage(source, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob((blob) => resolve(blob ?? undefined), "image/jpeg", 0.85));
};
