// The scanner: the phone's camera, and the browser's own reader of codes where
// it has one; else a reader that is loaded when it is wanted.

type Reader = (video: HTMLVideoElement) => Promise<string | undefined>;

interface Detector {
  detect(source: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}

declare const BarcodeDetector: undefined | (new (how: { formats: string[] }) => Detector);

/** How long between two looks, ms: codes that change every few seconds are all seen. */
const every = 150;

/** scan shows the camera and calls onText with each code that is read, until the returned function is called. */
export function scan(video: HTMLVideoElement, onText: (text: string) => void, onNoCamera: () => void): () => void {
  let over = false;
  let stream: MediaStream | undefined;
  const run = async () => {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } } });
    if (over) return stop(stream);
    video.srcObject = stream;
    await video.play();
    const read = await reader();
    let last = "";
    while (!over) {
      const text = await read(video).catch(() => undefined);
      if (text && text !== last && !over) onText((last = text));
      await new Promise((r) => setTimeout(r, every));
    }
  };
  void run().catch(() => !over && onNoCamera());
  return () => {
    over = true;
    if (stream) stop(stream);
  };
}

function stop(stream: MediaStream) {
  for (const track of stream.getTracks()) track.stop();
}

async function reader(): Promise<Reader> {
  if (typeof BarcodeDetector !== "undefined") {
    const detector = new BarcodeDetector({ formats: ["qr_code"] });
    return async (video) => (await detector.detect(video))[0]?.rawValue;
  }
  const { default: decode } = await import("qr/decode.js");
  const canvas = document.createElement("canvas");
  return async (video) => {
    canvas.width = video.videoWidth;
    canvas.height = video.videoHeight;
    const g = canvas.getContext("2d", { willReadFrequently: true })!;
    g.drawImage(video, 0, 0);
    return decode(g.getImageData(0, 0, canvas.width, canvas.height));
  };
}
