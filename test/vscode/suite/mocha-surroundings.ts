// The browser build of mocha reads the page's address, and an extension host has none.
if (!('location' in globalThis)) Object.assign(globalThis, { location: { search: '' } });

export {};
