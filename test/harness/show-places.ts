import type { Place } from '../../server/src/core/checks/finding.ts';
import { PlaceResolver } from '../../server/src/core/checks/resolve-place.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** Places as `file:line: text`, lines counted from 1; `$0` in the files is taken out. */
export function showPlaces(places: readonly Place[], files: Readonly<Record<string, string>>): readonly string[] {
  const texts = new Map(Object.entries(files).map(([path, text]) => [path, text.replace('$0', '')]));
  const resolver = new PlaceResolver(new Map(Array.from(texts, ([path, text]) => [path, readText(text).tape])));
  return places.map((place) => {
    const { file, range } = resolver.resolve(place);
    const line = texts.get(file)?.split('\n')[range.start.line] ?? '';
    return `${file}:${range.start.line + 1}: ${line.slice(range.start.character, range.end.character)}`;
  });
}
