// Records the phone's own motion: a line for each reading, time in seconds and
// three accelerations. What it shows is the core's affair.
import { useEffect, useRef, useState } from "preact/hooks";
import { Button } from "./parts";

const longest = 12; // s

type Asking = typeof DeviceMotionEvent & { requestPermission?: () => Promise<string> };

// allowed asks where the phone wants to be asked; that must follow a tap.
async function allowed(): Promise<boolean> {
  const ask = (window as { DeviceMotionEvent?: Asking }).DeviceMotionEvent?.requestPermission;
  if (!ask) return true;
  return (await ask().catch(() => "denied")) === "granted";
}

export function Recorder(p: { recorded: boolean; onTrace: (trace: string) => void }) {
  const [state, setState] = useState<"idle" | "on" | "denied" | "silent">("idle");
  const [seconds, setSeconds] = useState(0);
  const lines = useRef<string[]>([]);
  const stop = useRef(() => {});
  useEffect(() => () => stop.current(), []);

  const start = async () => {
    if (!(await allowed())) return setState("denied");
    lines.current = [];
    p.onTrace(""); // what was said of an earlier one no longer counts
    setSeconds(0);
    setState("on");
    let first = 0;
    const hear = (e: DeviceMotionEvent) => {
      const a = e.accelerationIncludingGravity ?? e.acceleration;
      if (!a || a.x === null || a.y === null || a.z === null) return;
      first ||= e.timeStamp;
      lines.current.push([(e.timeStamp - first) / 1000, a.x, a.y, a.z].map((v) => v.toFixed(3)).join(","));
    };
    const began = performance.now();
    const tick = setInterval(() => {
      const now = Math.round((performance.now() - began) / 1000);
      setSeconds(now);
      if (now >= 2 && lines.current.length === 0) {
        end();
        setState("silent");
      } else if (now >= longest) finish();
    }, 500);
    const end = () => {
      removeEventListener("devicemotion", hear);
      clearInterval(tick);
    };
    stop.current = end;
    addEventListener("devicemotion", hear);
  };
  const finish = () => {
    stop.current();
    setState("idle");
    p.onTrace(lines.current.join("\n"));
  };
  return (
    <div class="recorder">
      <p role="status">
        {state === "on" && `Recording: ${seconds} s`}
        {state === "idle" && p.recorded && "Recorded."}
        {state === "denied" && "The phone does not let this page read its motion. Allow it in the browser's settings, or read the peaks by eye."}
        {state === "silent" && "This phone gives no motion readings here. It needs a secure address (https), or has no sensor. Read the peaks by eye."}
      </p>
      {state === "on"
        ? <Button main onClick={finish}>Stop</Button>
        : <Button main onClick={() => void start()}>{p.recorded ? "Record again" : "Start"}</Button>}
    </div>
  );
}
