/** A number with its thousands set apart: `1,000,204.5`. */
export function inThousands(count: number): string {
  const [whole = '', ...fraction] = String(count).split('.');
  return [whole.replace(/\B(?=(\d{3})+$)/g, ','), ...fraction].join('.');
}
