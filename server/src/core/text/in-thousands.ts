/** A number with its thousands set apart: `1,000,204.5`. */
export function inThousands(count: number): string {
  const [whole = '', ...fraction] = String(count).split('.');
  // No number is written with more than 21 figures. Source: ECMAScript, Number::toString.
  return [whole.replace(/\B(?=(?:\d{3}){1,6}$)/g, ','), ...fraction].join('.');
}
