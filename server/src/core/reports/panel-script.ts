/**
 * The script of a page in an editor's panel. It tells the host which place or report somebody chose, as `{ place: 3 }` or
 * `{ report: 'findings' }`, and does nothing else.
 */
export const panelScript = `(() => {
  const host = acquireVsCodeApi();
  document.addEventListener('click', ({ target }) => {
    const button = target instanceof Element ? target.closest('button') : null;
    if (!button) return;
    const { place, report } = button.dataset;
    if (place !== undefined) host.postMessage({ place: Number(place) });
    else if (report !== undefined) host.postMessage({ report });
  });
})();
`;
