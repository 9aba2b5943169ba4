/** Minutes, 0 or more, in words of at most two units: `under a minute`, `48 min`, `5 h 48 min`, `3 days 4 h`. */
export function duration(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole < 1) return 'under a minute';
  if (whole < 60) return `${whole} min`;
  const hours = Math.round(minutes / 60);
  if (whole < 48 * 60) return inTwo(Math.floor(whole / 60), 'h', whole % 60, 'min');
  return inTwo(Math.floor(hours / 24), 'days', hours % 24, 'h');
}

function inTwo(large: number, largeUnit: string, small: number, smallUnit: string): string {
  return small === 0 ? `${large} ${largeUnit}` : `${large} ${largeUnit} ${small} ${smallUnit}`;
}
