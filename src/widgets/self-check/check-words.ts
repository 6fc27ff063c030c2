import type {
  CheckQuestions,
  ComputedQuestion,
  JudgementQuestion,
  Values,
} from '../../engine/questions/check/check-terms.ts'

/** Numbers of a question as words. */
type Texts<V extends Values> = { [Name in keyof V]: string }

/** What a computed question says: what it asks, and its worked solution with all numbers filled in. */
type ComputedWords<V extends Values, W extends Values> = {
  ask: (texts: Texts<V>) => string
  worked: (texts: Texts<V> & Texts<W> & { answer: string }) => string
}

/** What a judgement question says: what it asks, and of each choice its words and the reason why it is right or wrong. */
type JudgementWords<C extends string> = {
  ask: () => string
  choices: Readonly<Record<C, readonly [text: () => string, reason: () => string]>>
}

/** The words that belong to a lesson's questions, one entry for each. */
export type WordsOf<Q extends CheckQuestions> = {
  [Id in keyof Q]: Q[Id] extends ComputedQuestion<infer V, infer W>
    ? ComputedWords<V, W>
    : Q[Id] extends JudgementQuestion<infer C>
      ? JudgementWords<C>
      : never
}

/** Questions with their words, as the widget takes them from any lesson. */
export type LessonQuestions = {
  questions: CheckQuestions
  computed: Readonly<Record<string, ComputedWords<Values, Values>>>
  judgement: Readonly<Record<string, JudgementWords<string>>>
}

/** Ties the words of a lesson to its questions; a question without its words is a type error. */
export function questionsWithWords<Q extends CheckQuestions>(questions: Q, words: WordsOf<Q>): LessonQuestions {
  const ofKind = (kind: string) =>
    Object.fromEntries(Object.entries(words).filter(([id]) => questions[id]?.kind === kind))
  return {
    questions,
    computed: ofKind('computed') as LessonQuestions['computed'],
    judgement: ofKind('judgement') as LessonQuestions['judgement'],
  }
}
