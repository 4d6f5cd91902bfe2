// The emblem of the first page: one line, three bobs, one of them off it.
export function Emblem() {
  return (
    <svg class="emblem" viewBox="0 0 320 150" role="img" aria-label="Three plumb bobs: two hang on their line, one has drifted from it">
      <path class="emblem-rail" d="M40 8 H280" />
      {[80, 160, 240].map((x) => <path key={x} class="emblem-line" d={`M${x} 8 V138`} />)}
      <g transform="translate(80 8)"><path class="emblem-string" d="M0 0 V84" /><path class="emblem-bob" d="M-9 84 h18 v13 l-9 19 l-9 -19 z" /></g>
      <g transform="translate(160 8)"><path class="emblem-string" d="M0 0 V84" /><path class="emblem-bob" d="M-9 84 h18 v13 l-9 19 l-9 -19 z" /></g>
      <g class="emblem-off" transform="translate(240 8) rotate(-16)"><path class="emblem-string" d="M0 0 V84" /><path class="emblem-bob" d="M-9 84 h18 v13 l-9 19 l-9 -19 z" /></g>
    </svg>
  );
}
