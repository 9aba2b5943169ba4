/**
 * A pattern as a test of whole paths: `*` and `?` stay within one folder, `**` crosses folders, `**` with a slash may be nothing.
 * Everything else means itself.
 */
export function globTest(pattern: string): (path: string) => boolean {
  const source = pattern.replace(/\*\*\/|\*\*|\*|\?|[\\^$.|+()[\]{}]/g, (part) => {
    switch (part) {
      case '**/':
        return '(?:.*/)?';
      case '**':
        return '.*';
      case '*':
        return '[^/]*';
      case '?':
        return '[^/]';
      default:
        return `\\${part}`;
    }
  });
  const expression = new RegExp(`^${source}$`);
  return (path) => expression.test(path);
}
