// What both files of planted faults use.

/** Rows in random order, handed out once each. */
export function dealer(rows, random) {
  const order = rows.map((row) => ({ row, key: random.uniform() }));
  order.sort((a, b) => a.key - b.key);
  const shuffled = order.map(({ row }) => row);
  const used = new Set();
  return (count, passes = () => true) => {
    const dealt = [];
    for (const row of shuffled) {
      if (dealt.length === count) break;
      if (used.has(row.study_id) || !passes(row)) continue;
      used.add(row.study_id);
      dealt.push(row);
    }
    if (dealt.length < count) throw new Error(`only ${dealt.length} rows of ${count}`);
    return dealt;
  };
}

export const isNumber = (cell) => cell !== "" && Number.isFinite(Number(cell));
export const signed = (value) => (value < 0 ? `-${(-value).toFixed(2)}` : `+${value.toFixed(2)}`);

export function transposed(row, prefix) {
  const sphere = Number(row[`${prefix}sphere`]);
  const cylinder = Number(row[`${prefix}cyl`]);
  const axis = Number(row[`${prefix}axis`]);
  row[`${prefix}sphere`] = signed(sphere + cylinder);
  row[`${prefix}cyl`] = signed(-cylinder);
  row[`${prefix}axis`] = String(axis > 90 ? axis - 90 : axis + 90);
}
