import { describe, expect, it } from 'vitest';
import { outcome, ternBench } from '../harness/tern-bench.ts';
import { inNeovim, lacksNeovim } from './harness/neovim.ts';

const maker = 'kind: maker\nid: dove\nname: Dove\nouuis: [00-00-5E]\n';
const files = { ...ternBench, 'makers/dove.yaml': maker };

/** What is found in the maker's file: line, columns, message. */
const found = [3, 0, 5, 'Maker `dove` has the key `ouuis`, which is not known; the nearest is `ouis`.'];

describe.skipIf(lacksNeovim)('in Neovim, where there is /usr/bin/nvim', () => {
  it('shows what is found where it stands, and what a key means', async () => {
    const { returned } = await inNeovim(
      files,
      `
      vim.cmd('edit makers/dove.yaml')
      await(function() return #findings() == 1 end)
      vim.fn.cursor(2, 1)
      vim.cmd('normal K')
      local window
      await(function()
        window = vim.tbl_filter(function(one) return vim.api.nvim_win_get_config(one).relative ~= '' end, vim.api.nvim_list_wins())[1]
        return window ~= nil
      end)
      local lines = vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(window), 0, 1, false)
      return { findings = findings(), hover = lines[1] }
    `,
    );
    expect(returned).toEqual({ findings: [found], hover: '**Record id** · `id` · required' });
  });

  it('mends by an action that somebody chooses', async () => {
    const { returned, saved } = await inNeovim(
      files,
      `
      local titles
      vim.ui.select = function(actions, _, choose)
        titles = vim.tbl_map(function(action) return action[2].title end, actions)
        choose(actions[1])
      end
      vim.cmd('edit makers/dove.yaml')
      await(function() return #findings() == 1 end)
      vim.fn.cursor(4, 1)
      vim.api.nvim_feedkeys('\\\\a', 'x', false)
      await(function() return titles ~= nil and vim.bo.modified end)
      await(function() return #findings() == 0 end)
      vim.cmd('write')
      return titles
    `,
    );
    expect(returned).toEqual(['Rename it to `ouis`', 'Rename it to `x-ouuis`']);
    expect(saved('makers/dove.yaml')).toBe(maker.replace('ouuis', 'ouis'));
  });

  it('mends on save what follows from the file alone', async () => {
    const { saved } = await inNeovim(
      files,
      `
      vim.cmd('edit makers/dove.yaml')
      await(function() return #findings() == 1 end)
      vim.cmd('normal Gonoets: 💾')
      vim.cmd('write')
    `,
    );
    expect(saved('makers/dove.yaml')).toBe(`${maker.replace('ouuis', 'ouis')}notes: 💾\n`);
  });

  it('opens the report of contradictions', async () => {
    const { returned } = await inNeovim(
      { ...files, 'outcomes/left.yaml': outcome('left', 'left') },
      `
      vim.cmd('edit makers/dove.yaml')
      await(function() return #findings() == 1 end)
      vim.cmd('SwaploreContradictions')
      await(function() return vim.bo.buftype == 'nofile' end)
      return vim.api.nvim_buf_get_lines(0, 0, 5, false)
    `,
    );
    const title = 'Outcomes against rules: Harbour Street bench';
    expect(returned).toEqual([title, '='.repeat(title.length), '', 'Broken rules', '']);
  });

  it('runs one server for each base, and none for files in no base', async () => {
    const { returned } = await inNeovim(
      {
        'bench/swaplore.yaml': 'swaplore: 1\n',
        'bench/a.yaml': maker,
        'bench/b/c.yaml': maker.replace('dove', 'owl'),
        'shelf/swaplore.yaml': 'swaplore: 1\n',
        'shelf/a.yaml': maker,
        'd.yaml': maker,
      },
      `
      local roots = {}
      for _, file in ipairs({ 'bench/a.yaml', 'bench/b/c.yaml', 'shelf/a.yaml', 'd.yaml' }) do
        vim.cmd('edit ' .. file)
        await(function() return file == 'd.yaml' or #findings() == 1 end)
        local names = vim.tbl_map(function(client) return client.config.root_dir end, vim.lsp.buf_get_clients(0))
        table.insert(roots, vim.tbl_map(function(root) return vim.fn.fnamemodify(root, ':t') end, vim.tbl_values(names)))
      end
      return { roots, #vim.lsp.get_active_clients() }
    `,
    );
    expect(returned).toEqual([[['bench'], ['bench'], ['shelf'], []], 2]);
  });
});
