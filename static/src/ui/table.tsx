// Numbers in rows, beside every picture of them.

// A cell of so few characters is one number with its unit, and does not wrap.
const shortest = 9;

/** DataTable scrolls within itself where the page is too narrow for it. */
export function DataTable(p: { name: string; head: readonly string[]; rows: readonly (readonly string[])[] }) {
  return (
    <div class="data-scroll" role="region" aria-label={p.name} tabIndex={0}>
      <table class="data-table">
        <thead><tr>{p.head.map((h, i) => (h ? <th key={i} scope="col">{h}</th> : <td key={i} />))}</tr></thead>
        <tbody>{p.rows.map((r, i) => <tr key={i}>{r.map((c, j) => (j === 0 ? <th key={j} scope="row">{c}</th> : <td key={j} class={c.length <= shortest ? "short" : undefined}>{c}</td>))}</tr>)}</tbody>
      </table>
    </div>
  );
}
