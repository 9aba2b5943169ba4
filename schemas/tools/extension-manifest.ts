import { clientCommandRows, servingKey } from '../../client/src/command-rows.ts';
import { recordsView } from '../../client/src/view-rows.ts';
import { commandRows } from '../../server/src/lsp/command-rows.ts';
import { settingRows } from '../../server/src/lsp/settings.ts';

/** The text of `package.json` with the commands, views and settings that the editor is told of; all else stays as it was. */
export function toExtensionManifest(text: string): string {
  const manifest = JSON.parse(text);
  const contributes = { ...manifest.contributes, commands, menus, ...views, configuration };
  return `${JSON.stringify({ ...manifest, contributes }, null, 2)}\n`;
}

const commands = [...commandRows, ...clientCommandRows].map(({ id, title }) => ({
  command: id,
  title,
  category: 'Swaplore',
}));

const needingServer = [...commandRows, ...clientCommandRows.filter(({ needsServer }) => needsServer)];

const menus = { commandPalette: needingServer.map(({ id }) => ({ command: id, when: servingKey })) };

const { container, id: view, name, when, welcome } = recordsView;

const views = {
  viewsContainers: { activitybar: [container] },
  views: { [container.id]: [{ id: view, name, when }] },
  viewsWelcome: [{ view, ...welcome }],
};

const configuration = {
  title: 'Swaplore',
  properties: Object.fromEntries(
    settingRows.map(({ name, default: usual, describe }) => [
      `swaplore.${name}`,
      { type: 'boolean', default: usual, description: describe },
    ]),
  ),
};
