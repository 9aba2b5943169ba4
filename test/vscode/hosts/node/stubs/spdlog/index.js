// Stands in for the native logger. What the server logs is read from its output instead.
const quiet = () => undefined;
const logger = {
  getLevel: () => 2,
  ...Object.fromEntries(
    [
      'trace',
      'debug',
      'info',
      'warn',
      'error',
      'critical',
      'setLevel',
      'setPattern',
      'clearFormatters',
      'flush',
      'drop',
    ].map((name) => [name, quiet]),
  ),
};
exports.setFlushOn = quiet;
exports.createRotatingLogger = exports.createAsyncRotatingLogger = async () => logger;
