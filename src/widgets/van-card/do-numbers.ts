import type { LengthUnit } from '../../state/preferences.ts'
import { fineLengthText, lengthText } from '../../words/lengths.ts'
import { held } from '../../words/numbers.ts'
import { type FactForm, factInUnits, factText, type LengthForm } from '../prose/fact-text.ts'
import { namedFact } from '../prose/facts.ts'
import { givenText } from '../prose/givens.ts'
import { demoRig } from '../rig-choice/demo-rigs.ts'
import type { DoPart } from './do-lines.ts'

/** What an author gives such a number. */
type NumberGiven = { name?: string; rig?: string; m?: number } & FactForm & LengthForm

/**
 * How a lesson writes one of the numbers in its steps, while the site is built.
 *
 * @param page  for the message of an error
 * @throws Error for a number that there is not, or a component that no step has had yet
 */
export async function doNumber(
  { component, given }: Exclude<DoPart, string>,
  page: string,
): Promise<(units: LengthUnit) => string> {
  const { name = '', rig, m = 0, exact, ...form } = given as NumberGiven
  switch (component) {
    case 'Fact': {
      const { question, fact } = await namedFact(name, await demoRig(rig), page)
      const inUnits = factInUnits(question, fact, { exact, ...form })
      return (units) => (inUnits ? held(inUnits(units)) : factText(question, fact, form))
    }
    case 'Given': {
      const text = givenText(name, page)
      return (units) => held(text(units))
    }
    case 'Length':
      return (units) => held((exact ? fineLengthText : lengthText)(m, units))
    default:
      throw new Error(`${page}: a step has <${component}> in its first sentence; allowed are Fact, Given and Length`)
  }
}
