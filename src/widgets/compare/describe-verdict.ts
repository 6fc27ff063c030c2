import { halfIntervalDb, type Verdict } from '../../acoustics/index.ts'
import { type CompareAnswer, comparedRangesHz } from '../../engine/questions/compare/compare-terms.ts'
import { usualDbA } from '../../engine/scene/scene-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { dipFrequencyText, frequencyRangeText } from '../../words/frequencies.ts'
import { fineLengthText } from '../../words/lengths.ts'
import { levelText } from '../../words/levels.ts'
import { listText, percentText, shortText } from '../../words/numbers.ts'
import * as say from './verdict.messages.ts'

// What a verdict says, in words. Front less behind everywhere inside; readers are told what is behind.

const camel = <T extends string>(text: T) => text.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase())
const amount = (levelDb: number) => levelText(Math.abs(levelDb))

/** The answer to the question of the page. */
export function headline({
  bassCause,
  doubt,
  trebleBehind,
}: Pick<Verdict, 'bassCause' | 'doubt' | 'trebleBehind'>): string {
  const bass = say.headline({ cause: camel(bassCause) as Parameters<typeof say.headline>[0]['cause'] })
  const why = doubt ? say.doubt({ doubt: camel(doubt) }) : ''
  return [bass, why, say.treble({ behind: trebleBehind })].filter(Boolean).join(' ')
}

export type RangeWords = { name: string; value: string; sure: string; bands: string }

/** Bass, middle and treble: behind against the front. */
export function rangeWords(verdict: Verdict): RangeWords[] {
  return (['bass', 'middle', 'treble'] as const).map((range) => {
    const found = verdict[range]
    const name = say.range({ range, band: frequencyRangeText(comparedRangesHz[range]) })
    if (!found) return { name, value: say.rangeMissing(), sure: '', bands: '' }
    const whole = Math.round(found.difference.levelDb)
    const direction = whole > 0 ? 'less' : whole < 0 ? 'more' : 'same'
    return {
      name,
      value: say.rangeValue({ direction, amount: amount(whole) }),
      sure: say.rangeError({
        half: `${shortText(Math.max(0.1, Math.ceil(10 * halfIntervalDb(found.difference)) / 10), 1)} dB`,
      }),
      bands: say.rangeOf({ measured: found.measured, of: found.of }),
    }
  })
}

/** What the loudspeaker, geometry and probably the room did, each in a few sentences. */
export function causes(verdict: Verdict, isBroughtTogether: boolean, units: LengthUnit) {
  return [
    { title: say.boxTitle(), sentences: boxSentences(verdict) },
    { title: say.geometryTitle(), sentences: geometrySentences(verdict, isBroughtTogether, units) },
    { title: say.roomTitle(), sentences: [roomSentence(verdict)] },
  ]
}

function boxSentences({ trebleBehind, treble, bassCause }: Verdict): string[] {
  const less = amount(treble?.difference.levelDb ?? 0)
  const told = {
    missing: () => say.boxMissing({ amount: less }),
    less: () => say.boxLess({ amount: less }),
    there: say.boxThere,
    'cannot-tell': say.boxCannotTell,
  }[trebleBehind]()
  return bassCause === 'hardly-any' || bassCause === 'distance' ? [told, say.boxBassSame()] : [told]
}

function geometrySentences(
  { distanceDb, reflection, dips }: Verdict,
  isBroughtTogether: boolean,
  units: LengthUnit,
): string[] {
  const sentences = [distanceSentence(distanceDb, isBroughtTogether)]
  if (reflection)
    sentences.push(
      Math.abs(reflection.differenceDb) < 1
        ? say.reflectionNone()
        : say.reflectionShare({ amount: amount(reflection.differenceDb) }),
    )
  // One way makes several dips: they are told together, from the lowest.
  const rising = dips.toSorted((a, b) => a.frequencyHz - b.frequencyHz)
  for (const alike of Map.groupBy(rising, ({ fits }) => fits && `${fits.place} ${fits.cause}`).values()) {
    const [lowest] = alike
    if (!lowest) continue
    const { fits, extraM } = lowest
    const told = {
      count: alike.length,
      frequency: listText(alike.map(({ frequencyHz }) => dipFrequencyText(frequencyHz))),
      extra: fineLengthText(fits?.extraM ?? extraM, units),
    }
    sentences.push(
      fits ? say.dipFits({ ...told, place: fits.place, cause: camel(fits.cause) }) : say.dipFitsNothing(told),
    )
  }
  return sentences
}

function distanceSentence(distanceDb: number | null, isBroughtTogether: boolean): string {
  if (distanceDb === null) return say.distanceUnknown()
  if (isBroughtTogether) return say.distanceTaken()
  if (Math.abs(distanceDb) < 0.5) return say.distanceSame()
  return say.distanceStep({ amount: amount(distanceDb), quieter: distanceDb > 0 })
}

/** What the room did, as far as the numbers say. */
export function roomDid({ trebleBehind, dips }: Verdict): 'dips' | 'treble' | 'nothing' | 'cannotTell' {
  if (dips.some(({ fits }) => !fits)) return 'dips'
  if (trebleBehind === 'there' || trebleBehind === 'less') return 'treble'
  return trebleBehind === 'missing' ? 'nothing' : 'cannotTell'
}

const roomSentence = (verdict: Verdict): string =>
  ({ dips: say.roomDips, treble: say.roomTreble, nothing: say.roomNothing, cannotTell: say.roomCannotTell })[
    roomDid(verdict)
  ]()

/** Bass share and loudness at both places. */
export function shareWords({ heard, unheardHz }: CompareAnswer): string {
  if (!heard) return say.shareMissing({ loud: unheardHz.length === 0 })
  return say.share({
    front: `${usualDbA} dB(A)`,
    inFront: percentText(heard.front.bassShare),
    behind: percentText(heard.behind.bassShare),
    frontSones: shortText(heard.front.sones, 0),
    behindSones: shortText(heard.behind.sones, 0),
  })
}
