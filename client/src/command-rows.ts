/** Commands of the extension: what each is named, how the palette calls it, and whether it needs a server. */
export const clientCommandRows = [
  { id: 'swaplore.recordOutcome', title: 'Record a Swap Outcome', needsServer: true },
  { id: 'swaplore.recordDrive', title: 'Record a Drive', needsServer: true },
  { id: 'swaplore.findDonors', title: 'Find Donors for a Drive', needsServer: true },
  { id: 'swaplore.planTrial', title: 'Plan the Next Trial', needsServer: true },
  { id: 'swaplore.traceIdentity', title: 'Trace Identity from Captures', needsServer: true },
  { id: 'swaplore.compareImages', title: 'Compare ROM Images', needsServer: true },
  { id: 'swaplore.reviewChanges', title: 'Review Changes Against a Branch', needsServer: true },
  { id: 'swaplore.createBase', title: 'Create a Knowledge Base', needsServer: false },
  { id: 'swaplore.showLog', title: 'Show Log', needsServer: false },
] as const;

/** The name of a command. */
export type ClientCommandId = (typeof clientCommandRows)[number]['id'];

/** The key by which the palette knows that a server runs, and offers the server's commands. */
export const servingKey = 'swaplore.isServing';
