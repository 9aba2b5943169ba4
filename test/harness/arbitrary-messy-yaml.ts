import fc from 'fast-check';
import { addComments } from './add-comments.ts';
import { laidOutYaml } from './arbitrary-laid-out-yaml.ts';
import { tidyYaml, wildYaml } from './arbitrary-yaml.ts';

/** Changes of one line that mostly leave its meaning: white space where it says nothing, blank lines, comments of any depth. */
const messes: readonly ((line: string) => string)[] = [
  (line) => line,
  (line) => line,
  (line) => line,
  (line) => `${line}  `,
  (line) => `${line} \t`,
  (line) => `${line}   # lined up `,
  (line) => `${line}\n\n\n`,
  (line) => `${line}\n  `,
  (line) => `${line}\n \t \n`,
  (line) => `# left\n${line}`,
  (line) => `    # deep\n${line}`,
  (line) => `  # ${'here: '}\n\n\n  # and "here\t\n${line}`,
  (line) => line.replace(/: (?=[^|>])/, ':    '),
  (line) => line.replace(/: (?=[^|>])/, ':\t'),
  (line) => line.replace(/^( *)(\w+):/, '$1$2 :'),
  (line) => line.replace(/^( *)(\w+):/, '$1"$2":'),
  (line) => line.replace(/^( *- )(\w+:.*)$/, '$1  $2'),
  (line) => line.replace(/: (\w+)$/, ': &a $1'),
  (line) => line.replace(/: (\w+)$/, ':  !!str   $1'),
  (line) => line.replace(/: (\w+)$/, ': [$1 ,"b":1,{c:  $1},  [ ], {  } ]'),
  (line) => line.replace(/^( *)(.*: )(\w+)$/, '$1$2[ $3,\n$1      { x: 1 ,\n$1 y: [a,# no\n$1  b] }, # yes\n\n\n$1  ]'),
  (line) => line.replace(/^( *)(.*: )(\w+)$/, '$1$2{k: $3,\n$1      l: 1\n$1}'),
  (line) => line.replace(/^( *)(.*:) (\w+)$/, '$1$2\n\n$1     # below\n$1   $3'),
  (line) => line.replace(/^( *)(.*:) (\w+)$/, '$1$2 $3 \n$1     and \n\n$1  more'),
  (line) => line.replace(/^( *)(.*:) (\w+)$/, '$1$2 "$3  \n$1     and \\\n\n$1    more "'),
  (line) => line.replace(/^( *)(.*:) (\w+)$/, '$1$2 >-\n\n$1       $3  \n$1        deep\n$1   \n$1       more'),
  (line) => line.replace(/^( *)(.*:) (\w+)$/, '$1$2 |2+\n$1     $3\n\n'),
  (line) => line.replace(/^( *)(.*:) (\w+)$/, '$1$2 |+ # kept\n$1     $3 \n\n \n'),
  (line) =>
    line.replace(/^( *)(.*:) (\w+)$/, '$1$2\n$1-   $3\n$1-   -   x\n$1    -  y: |\n$1              z\n$1       w: 1'),
  (line) => line.replace(/^( *)(.*:) (\w+)$/, '$1$2 &b\n$1     k: $3\n$1     l: *b\n$1    # c\n$1 # d'),
  (line) => `---\n${line}`,
];

/** The text with each line changed as the picks say in turn, and now and then indented as a whole. */
function messUp(text: string, { picks, shift }: { readonly picks: readonly number[]; readonly shift: number }): string {
  return text
    .split('\n')
    .map((line, at) => (messes[(picks[at % picks.length] ?? 0) % messes.length] ?? String)(line))
    .join('\n')
    .replaceAll(/^(?!---)(?=.)/gm, ' '.repeat(shift));
}

const numbers = fc.array(fc.nat(messes.length - 1), { minLength: 1, maxLength: 12 });

/** YAML as somebody leaves it behind who never looks at the layout. Most of it is sound. */
export const messyYaml: fc.Arbitrary<string> = fc
  .record({
    text: fc.oneof(
      { weight: 6, arbitrary: tidyYaml },
      { weight: 2, arbitrary: laidOutYaml },
      { weight: 1, arbitrary: wildYaml },
    ),
    comments: fc.array(fc.nat(3), { minLength: 1, maxLength: 9 }),
    picks: fc.oneof(
      { weight: 1, arbitrary: numbers },
      { weight: 3, arbitrary: numbers.map((some) => some.flatMap((pick) => [0, 0, 0, pick, 0, 0, 0])) },
    ),
    shift: fc.constantFrom(0, 0, 0, 0, 1, 3),
    lineBreak: fc.constantFrom('\n', '\n', '\r\n'),
    end: fc.constantFrom('', '', '\n', '  ', '\n\n \n'),
  })
  .map(({ text, comments, picks, shift, lineBreak, end }) => {
    const plain = text.replaceAll('\r\n', '\n');
    return (messUp(addComments(plain, comments), { picks, shift }) + end).replaceAll('\n', lineBreak);
  });
