import { expect, it } from 'vitest';
import { canonicalUri, folderOf, pathBelow, uriBelow } from '../../server/src/lsp/uris.ts';

it.each(['bench:/shelf', 'bench://room/shelf', 'bench:/', 'bench://room/', 'file:///'])(
  'names files below %s',
  (folder) => {
    const root = canonicalUri(folder);
    const file = uriBelow(root, 'a b/ä.yaml');
    expect(canonicalUri(file)).toBe(file);
    expect(pathBelow(root, file)).toBe('a b/ä.yaml');
    expect(folderOf(uriBelow(root, 'a.yaml'))).toBe(root);
  },
);
