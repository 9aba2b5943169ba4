import type { Snapshot } from '../index/snapshot.ts';
import { type DriveRecord, type FamilyRecord, isRetracted, type MakerRecord } from '../model/record.ts';
import type { Day } from '../terms/calendar.ts';
import { type Answer, type Answers, answerTo } from './answers.ts';

/** What a question is asked from: the base, the day, and all that was answered so far. */
export class Bench {
  constructor(
    readonly snapshot: Snapshot,
    readonly today: Day,
    readonly answers: Answers,
  ) {}

  /** What was answered; undefined where nothing was, null where it is not known. */
  answer(name: string): Answer | undefined {
    return answerTo(this.answers, name);
  }

  /** The text that was answered; undefined where there is none. */
  text(name: string): string | undefined {
    const answer = this.answer(name);
    return typeof answer === 'string' ? answer : undefined;
  }

  /** What was answered to a question that takes several values. */
  list(name: string): readonly string[] {
    const answer = this.answer(name);
    return typeof answer === 'object' && answer !== null ? answer : [];
  }

  /** The drive that was answered. */
  drive(name: string): DriveRecord | undefined {
    return this.snapshot.find('drive', this.text(name));
  }

  /** The family of the drive that was answered, if its facts stand. */
  familyOf(name: string): FamilyRecord | undefined {
    return this.familyNamed(this.drive(name)?.data.family);
  }

  /** The family with an id, if its facts stand. */
  familyNamed(id: string | undefined): FamilyRecord | undefined {
    const family = this.snapshot.find('family', id);
    return family && !isRetracted(family) ? family : undefined;
  }

  /** The maker of a family, if its facts stand. */
  makerOf(family: FamilyRecord | undefined): MakerRecord | undefined {
    const maker = this.snapshot.find('maker', family?.data.maker);
    return maker && !isRetracted(maker) ? maker : undefined;
  }
}
