import type { Rig } from '../../acoustics/index.ts'
import { boxFacts } from '../../engine/questions/box/box-facts.ts'
import { demoBoxPattern } from '../../engine/questions/box/demo-box-pattern.ts'
import { columnFacts } from '../../engine/questions/column/column-facts.ts'
import { compareFacts } from '../../engine/questions/compare/compare-facts.ts'
import { earFacts } from '../../engine/questions/ear/ear-facts.ts'
import { hallFacts } from '../../engine/questions/hall/hall-facts.ts'
import { hornFacts } from '../../engine/questions/horn/horn-facts.ts'
import { planFacts } from '../../engine/questions/plan/plan-facts.ts'
import { steerFacts } from '../../engine/questions/steer/steer-facts.ts'
import { rangeFacts } from '../../engine/questions/walk/range-facts.ts'
import { demoFacts } from '../../engine/questions/walk/walk-facts.ts'
import { wallFacts } from '../../engine/questions/wall/wall-facts.ts'
import { defaultState } from '../../state/share-link.ts'
import { keptAtBuild } from '../at-build/kept-at-build.ts'
import { demoBox } from '../box-and-wave/demo-boxes.ts'
import { columnLink, columnOf } from '../column/column-link.ts'
import { eveningFacts } from '../decide/evening-questions.ts'
import { offeredBoxes } from '../plan/plan-question.ts'
import { demoRigs, solvedDemoRigs } from '../rig-choice/demo-rigs.ts'
import type { Fact } from './fact-text.ts'
import { unknownFact } from './unknown-fact.ts'

/** The facts of every question by its name, for a demo rig whose solved cabinets are loaded. A new question adds its line. */
const tables = {
  box: async () => boxFacts(demoBoxPattern, ...(await Promise.all([demoBox('top'), demoBox('sub')]))),
  column: () => columnFacts(columnOf(defaultState(columnLink))),
  compare: compareFacts,
  ear: earFacts,
  hall: hallFacts,
  horn: hornFacts,
  plan: async () => {
    await solvedDemoRigs()
    return planFacts(eveningFacts(offeredBoxes(await demoRigs())))
  },
  range: async () => rangeFacts(await solvedDemoRigs()),
  steer: steerFacts,
  walk: demoFacts,
  wall: wallFacts,
} satisfies Record<string, (rig: Rig) => Promise<Record<string, Fact>> | Record<string, Fact>>

type Tables = typeof tables
type Question = keyof Tables

/** What `<Fact name>` may be: the question, then the fact's name in the question's own table. */
export type FactName = {
  [Q in Question]: `${Q}-${keyof Awaited<ReturnType<Tables[Q]>> & string}`
}[Question]

/** All facts of a question for a rig, computed once a build. */
const factsOf = (question: Question, rig: Rig): Promise<Record<string, Fact>> | Record<string, Fact> =>
  keptAtBuild(`facts-${question}`, rig.name, () => tables[question](rig))

/**
 * A fact by its full name.
 *
 * @param page  where it is asked for, for the message
 * @throws Error that names the page, the name and the nearest that there are
 */
export async function namedFact(name: string, rig: Rig, page: string): Promise<{ question: string; fact: Fact }> {
  const [, question = '', own = ''] = /^([a-z]+)-(.+)$/.exec(name) ?? []
  if (!isQuestion(question)) {
    const questions = Object.keys(tables).join(', ')
    throw new Error(`${page}: no fact is called "${name}"; the first word is the question: ${questions}`)
  }
  const facts = await factsOf(question, rig)
  const fact = facts[own]
  if (fact) return { question, fact }
  const known = Object.keys(facts).map((one) => `${question}-${one}`)
  throw unknownFact(page, name, known)
}

const isQuestion = (word: string): word is Question => Object.hasOwn(tables, word)
