/** The name of a type made from a node id or key: `outcome.hda_proved_by` gives `OutcomeHdaProvedBy`. */
export function toPascal(id: string): string {
  return id
    .split(/[^A-Za-z0-9]+/)
    .map((word) => word.charAt(0).toUpperCase() + word.slice(1))
    .join('');
}
