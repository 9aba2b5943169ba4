/** What everybody has to know before acting on what was recorded. */
export const careFirst =
  'This is what was recorded, and promises nothing of the next swap. Powering a drive can cost data: where the data matters to ' +
  'anyone, leave it to a professional recovery lab.';
