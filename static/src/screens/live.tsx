// Timing by this phone's own positioning, with the screen held awake. The
// positions are kept as a draft, so that a phone that restarts loses none.
import { useEffect, useRef, useState } from "preact/hooks";
import { useDraft, useView } from "../book";
import { LapTable } from "../draw/laps";
import type { Live } from "../models/laps";
import { Button, Card } from "../ui";
import type { LapsDraft } from "./lapsin";

type Fix = [lat: number, lon: number, at: number, accuracy: number];

/** A lap that takes longer, in seconds, is a stop in the pits. */
const longest = 3600;
/** How many fixes go into the draft at once. */
const batch = 5;

export function LiveTiming(p: { session: string; onTake: (d: Partial<LapsDraft>) => void }) {
  const [draft, change, forget] = useDraft<{ fixes: Fix[] }>(`live:${p.session}`, { fixes: [] });
  const [running, setRunning] = useState(false);
  const [wrong, setWrong] = useState("");
  const fresh = useRef<Fix[]>([]);
  const [fixes, setFixes] = useState<Fix[]>([]);
  const all = fixes.length > 0 ? fixes : draft.fixes;
  const { model: m } = useView<Live>("live", { session: p.session, fixes: all });
  const awake = useAwake(running);
  useEffect(() => {
    if (!running) return;
    fresh.current = draft.fixes;
    const watch = navigator.geolocation.watchPosition(
      ({ coords, timestamp }) => {
        fresh.current = [...fresh.current, [coords.latitude, coords.longitude, timestamp / 1000, coords.accuracy]];
        setFixes(fresh.current);
        setWrong("");
        if (fresh.current.length % batch === 0) change({ fixes: fresh.current });
      },
      (err) => setWrong(trouble[err.code] ?? "The phone gives no position now."),
      { enableHighAccuracy: true, maximumAge: 0, timeout: 20_000 },
    );
    return () => navigator.geolocation.clearWatch(watch);
  }, [running]);
  const stop = () => {
    change({ fixes: fresh.current });
    setRunning(false);
  };
  const take = () => {
    if (!m) return;
    p.onTake({ laps: m.laps, source: "live", accuracy: m.accuracy ?? null, map: m.map ?? null, way: m.turns ?? "", length: m.length ?? null });
    forget();
    change({ fixes: [] });
    setFixes([]);
  };
  if (!("geolocation" in navigator) || !isSecureContext) return <Card title="Time them now"><p>This page may not ask the phone where it is. Open the app over HTTPS.</p></Card>;
  return (
    <Card title="Time them now">
      <p>Start it, fasten the phone where it sees the sky and cannot fall off, and ride. Do not look at it on track.</p>
      <p>{m?.lineSays}</p>
      {running && <Clock since={m?.since ?? 0} />}
      {m?.last && <p class="live-last"><span>Last {m.last}</span> <span>Best {m.best}</span></p>}
      {wrong && <p class="refusal" role="alert">{wrong}</p>}
      <p class="hint" id="live-says">{m?.says}</p>
      <p class="quiet" role="status">{running ? awake : all.length > 0 ? "Stopped. The positions so far are kept." : ""}</p>
      {m && m.rows.length > 0 && <LapTable rows={m.rows} />}
      {running
        ? <Button id="live-stop" main onClick={stop}>Stop</Button>
        : <Button id="live-start" main onClick={() => setRunning(true)}>{all.length > 0 ? "Go on" : "Start"}</Button>}
      {!running && m && m.laps.length > 0 && <Button id="live-take" onClick={take}>{m.laps.length === 1 ? "Take 1 lap" : `Take these ${m.laps.length} laps`}</Button>}
      {!running && all.length > 0 && <Button danger onClick={() => { forget(); change({ fixes: [] }); setFixes([]); }}>Throw the positions away</Button>}
    </Card>
  );
}

const trouble: Record<number, string> = {
  1: "You did not let the app know where the phone is. Allow it in the browser's settings for this page.",
  2: "The phone finds no position here. Go where it sees the sky.",
  3: "No position for twenty seconds. Go where the phone sees the sky.",
};

// Clock counts the lap under way, once a second.
function Clock(p: { since: number }) {
  const [now, setNow] = useState(Date.now() / 1000);
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now() / 1000), 1000);
    return () => clearInterval(timer);
  }, []);
  if (p.since === 0) return <p class="live-clock">waiting for the line</p>;
  const s = Math.max(0, Math.floor(now - p.since));
  if (s > longest) return <p class="live-clock">waiting for the line</p>;
  return <p class="live-clock" role="timer" aria-live="off">{Math.floor(s / 60)}:{String(s % 60).padStart(2, "0")}</p>;
}

// useAwake holds the screen awake while on, and says whether it is.
function useAwake(on: boolean): string {
  const [says, say] = useState("");
  useEffect(() => {
    if (!on) return;
    let lock: WakeLockSentinel | undefined;
    let over = false;
    const hold = async () => {
      try {
        lock = await navigator.wakeLock.request("screen");
        if (over) return void lock.release();
        say("The screen stays on while it times.");
      } catch {
        say("This phone does not let the app keep the screen on: set it to stay on by hand, or timing stops when it goes dark.");
      }
    };
    const back = () => document.visibilityState === "visible" && void hold();
    void hold();
    document.addEventListener("visibilitychange", back);
    return () => {
      over = true;
      document.removeEventListener("visibilitychange", back);
      void lock?.release();
    };
  }, [on]);
  return says;
}
