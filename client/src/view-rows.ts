import { servingKey } from './command-rows.ts';

/** The view of the records of all bases, and the container in the activity bar that holds it alone. */
export const recordsView = {
  container: { id: 'swaplore', title: 'Swaplore', icon: 'media/view.svg' },
  id: 'swaplore.records',
  name: 'Records',
  /** In a window without a folder it says what a base is; with other folders it would only be in the way. */
  when: `${servingKey} || workspaceFolderCount == 0`,
  welcome: {
    when: `!${servingKey}`,
    contents:
      'A base is a folder with a swaplore.yaml in it. Its families, boards, drives, outcomes and rules are listed here.\n[Open Folder](command:workbench.action.files.openFolder)\n[Create a Knowledge Base](command:swaplore.createBase)',
  },
} as const;
