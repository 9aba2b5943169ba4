import { knownOfImages } from '../../core/features/known-of-images.ts';
import { romDocument } from '../../core/reports/rom.ts';
import { singlePage } from '../../core/reports/single-page.ts';
import { compareImages as compare, type RomImage } from '../../core/rom-images/compare-images.ts';
import { sha256 } from '../../core/text/sha256.ts';
import { shortName } from '../../core/text/short-name.ts';
import { defineFeature } from '../feature.ts';
import { compareImagesRequest, type SentImage } from '../protocol.ts';
import { refused } from '../refused.ts';
import { requireNonce } from '../require-nonce.ts';
import { usableBase } from '../usable-base.ts';

/** Images of ROM chips compared, as a page for a panel: what `swaplore rom` says of them. */
export const compareImages = defineFeature({
  request: compareImagesRequest,
  capabilities: () => ({}),
  answer: async ({ read1, read2, donorNow, drive: id, uri, nonce }, context) => {
    requireNonce(nonce);
    const { snapshot } = await usableBase(uri, context);
    const drive = snapshot.find('drive', id);
    if (id !== undefined && !drive) {
      throw refused(`There is no drive \`${shortName(id)}\`.`);
    }
    const comparison = compare({
      read1: toImage(read1),
      read2: read2 && toImage(read2),
      donorNow: donorNow && toImage(donorNow),
      ...knownOfImages(drive, snapshot),
    });
    const html = singlePage(romDocument(comparison), { kind: 'panel', nonce });
    return { title: id === undefined ? 'ROM images' : `ROM images: ${shortName(id)}`, html, places: [] };
  },
});

function toImage({ name, base64 }: SentImage): RomImage {
  const bytes = bytesOf(base64);
  return { name, bytes, sha256: sha256(bytes) };
}

function bytesOf(base64: string): Uint8Array {
  try {
    return Uint8Array.from(atob(base64), (byte) => byte.charCodeAt(0));
  } catch {
    throw refused('An image is not sent in base64.');
  }
}
