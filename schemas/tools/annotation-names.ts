/** The words our schemas add to JSON Schema, to be made known to a strict validator. */
export const annotationNames = [
  'where',
  'why',
  'read_from',
  'refused',
  'expected',
  'meanings',
  'unit',
  'comparable',
  'comparable_as',
  'slot_owner',
  'refers_to',
  'points_to',
] as const;

/** The words of JSON Schema that only describe; a validator does without them. */
export const standardAnnotationNames = ['$comment', 'title', 'description', 'examples'] as const;

/** Where a value can be read: the only words `read_from` may hold. */
export const readFromNames = ['label', 'board', 'host', 'rom_image', 'inside', 'bench', 'none'] as const;
