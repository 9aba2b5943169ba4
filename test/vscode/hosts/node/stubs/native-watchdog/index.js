// The native watchdog ends the extension host when its parent dies; the server's own disconnect handling is enough for tests.
exports.start = () => true;
exports.exit = (code) => process.exit(code);
