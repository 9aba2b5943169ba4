import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import manifest from '../../package.json' with { type: 'json' };
import { ciKits } from '../../server/src/core/starting/ci-kits.ts';
import { findTool } from '../../server/src/core/starting/tool.ts';
import { projectRoot } from '../harness/source-files.ts';

/** GitHub's own reader of workflows, in one piece: it imports JSON in a way that Node refuses. */
async function githubReader(): Promise<typeof import('@actions/workflow-parser')> {
  const stdin = { contents: "export * from '@actions/workflow-parser';", resolveDir: projectRoot };
  const options = { stdin, bundle: true, write: false, format: 'esm', platform: 'browser', logLevel: 'error' } as const;
  const [file] = (await build(options)).outputFiles;
  return import(`data:text/javascript;base64,${Buffer.from(file?.contents ?? []).toString('base64')}`);
}

const { convertWorkflowTemplate, NoOperationTraceWriter, parseWorkflow } = await githubReader();

/** What GitHub's own reader of workflows finds wrong. Nothing here runs an action: what a hosted one does is not tested. */
async function faultsIn(content: string): Promise<string[]> {
  const { context, value } = parseWorkflow({ name: 'swaplore.yml', content }, new NoOperationTraceWriter());
  if (value) await convertWorkflowTemplate(context, value);
  return context.errors.getErrors().map(({ message }) => message);
}

const tools = ['tools/swaplore.tgz', 'swaplore@0.1.0', '@bench/swaplore@0.1.0'];
const cases = (['github', 'github-sarif'] as const).flatMap((kit) => tools.map((tool) => [kit, tool] as const));

function textOf(kit: keyof typeof ciKits, tool: string): string {
  return ciKits[kit].textWith(findTool(tool)!);
}

it.each(cases)('GitHub reads %s with %s, and finds nothing wrong', async (kit, tool) => {
  const text = textOf(kit, tool);
  expect(await faultsIn(text)).toEqual([]);
  expect(parse(text).env.SWAPLORE).toBe(findTool(tool)?.spec);
});

it('GitHub says what is wrong where something is', async () => {
  const text = textOf('github', 'tools/swaplore.tgz');
  expect(await faultsIn(text.replace('runs-on', 'run-on'))).not.toEqual([]);
  expect(await faultsIn(text.replace('contents: read', 'content: read'))).not.toEqual([]);
  expect(await faultsIn(text.replace('!cancelled()', '!canceled()'))).not.toEqual([]);
});

describe('the workflow', () => {
  const workflow = parse(textOf('github', 'tools/swaplore.tgz'));

  it('runs on pushes and pull requests, and may only read', () => {
    expect(workflow.on).toEqual(['push', 'pull_request']);
    expect(workflow.permissions).toEqual({ contents: 'read' });
  });

  it('fetches the whole history, without which there is nothing to compare with', () => {
    expect(workflow.jobs.lint.steps[0].with).toEqual({ 'fetch-depth': 0 });
  });

  it('takes a version of Node the command is made for', () => {
    const [, least] = /^>=(\d+)/.exec(manifest.engines.node) ?? [];
    expect(workflow.jobs.lint.steps[1].with['node-version']).toBeGreaterThan(Number(least));
  });
});
