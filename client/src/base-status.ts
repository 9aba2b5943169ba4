import { type Disposable, StatusBarAlignment, window } from 'vscode';
import type { BaseState } from '../../server/src/lsp/protocol.ts';

/** The item of the status bar that says how the bases stand; absent while there is none. */
export class BaseStatus implements Disposable {
  private readonly item = window.createStatusBarItem('swaplore.status', StatusBarAlignment.Left);
  private readonly states = new Map<string, BaseState>();

  constructor() {
    this.item.name = 'Swaplore';
    this.item.command = 'workbench.actions.view.problems';
  }

  /** What it says; undefined where it is not shown. */
  get text(): string | undefined {
    return this.states.size > 0 ? this.item.text : undefined;
  }

  /** How the bases stand. */
  get bases(): readonly BaseState[] {
    return [...this.states.values()];
  }

  /** Takes how one base stands. */
  take(state: BaseState): void {
    if (state.state === 'gone') this.states.delete(state.root);
    else this.states.set(state.root, state);
    this.show();
  }

  /** Forgets all bases. */
  clear(): void {
    this.states.clear();
    this.show();
  }

  dispose(): void {
    this.item.dispose();
  }

  private show(): void {
    const { item, bases: states } = this;
    if (states.length === 0) {
      item.hide();
      return;
    }
    const checked = states.filter((one) => one.state === 'checked');
    const errors = checked.reduce((sum, one) => sum + one.errors, 0);
    const warnings = checked.reduce((sum, one) => sum + one.warnings, 0);
    const isReading = checked.length < states.length;
    item.text = isReading
      ? '$(sync~spin) Swaplore'
      : `${iconOf(errors, warnings)} Swaplore${countsOf(errors, warnings)}`;
    item.tooltip = states.map(describe).join('\n');
    item.accessibilityInformation = { label: `Swaplore. ${states.map(describe).join('. ')}` };
    item.show();
  }
}

function iconOf(errors: number, warnings: number): string {
  if (errors > 0) return '$(error)';
  return warnings > 0 ? '$(warning)' : '$(check)';
}

/** Counts where something was found. */
function countsOf(errors: number, warnings: number): string {
  const counts = [
    ...(errors > 0 ? [amount(errors, 'error')] : []),
    ...(warnings > 0 ? [amount(warnings, 'warning')] : []),
  ];
  return counts.length > 0 ? `: ${counts.join(', ')}` : '';
}

function describe(state: BaseState): string {
  if (state.state !== 'checked') return `${state.name}: being read`;
  return `${state.name}${countsOf(state.errors, state.warnings) || ': no errors, no warnings'}`;
}

function amount(count: number, thing: string): string {
  return `${count} ${thing}${count === 1 ? '' : 's'}`;
}
