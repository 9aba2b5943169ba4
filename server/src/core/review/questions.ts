import type { Finding } from '../checks/finding.ts';
import { controlQuestions, keyQuestions } from './gap-questions.ts';
import { outcomeQuestions } from './outcome-questions.ts';
import type { Question, Review } from './review.ts';
import { exceptionQuestions, weakenedQuestions } from './rule-questions.ts';
import { leftOutBy, settingQuestions } from './setting-questions.ts';
import { hearsayQuestions, serialQuestions } from './trust-questions.ts';

/**
 * What whoever accepts a change should ask: first of what was switched off or made to disappear, then of what is claimed, then of what
 * is not there. One question for each cause. `hidden` are findings that a setting hides.
 */
export function questionsOf(
  review: Omit<Review, 'questions' | 'onMerge'>,
  hidden: readonly Finding[],
): readonly Question[] {
  const leftOut = leftOutBy(review);
  const ofOutcomes = outcomeQuestions(review, leftOut);
  const told = new Set(ofOutcomes.flatMap(({ record }) => record ?? []));
  return [
    ...settingQuestions(review),
    ...ofOutcomes,
    ...exceptionQuestions(review),
    ...weakenedQuestions(review, leftOut),
    ...serialQuestions(review, hidden),
    ...hearsayQuestions(review),
    ...controlQuestions(review, told),
    ...keyQuestions(review, told),
  ];
}
