import { frequencyText } from '../../words/frequencies.ts'
import { fractionWords } from '../../words/loudness.ts'
import { wholeText } from '../../words/numbers.ts'
import { statedPhons, thresholdPhon } from './contour-curves.ts'
import * as say from './equal-loudness.messages.ts'
import { dropDb, type LevelDrop } from './level-drop.ts'

/** Whether a tone of this loudness level is heard at all. */
const isHeard = (phon: number): boolean => phon > thresholdPhon + 0.05

/** What the dragged tone is as loud as. */
export function toneSentence(frequencyHz: number, levelDb: number, phon: number): string {
  const tone = { frequency: frequencyText(frequencyHz), level: wholeText(levelDb), phon: wholeText(phon) }
  if (!isHeard(phon)) return say.toneAtThreshold(tone)
  if (frequencyHz === 1000) return say.toneIsReference(tone)
  const asLoud = say.toneAsLoud(tone)
  return phon < statedPhons.from ? `${asLoud} ${say.informative({ phon: statedPhons.from })}` : asLoud
}

/** What 10 dB less does to the bass tone and to 1 kHz, both as loud as each other before. */
export function dropSentence(bass: LevelDrop, reference: LevelDrop): string {
  if (!isHeard(bass.phon.before)) return say.dropUnheard()
  const drops = say.drops({
    drop: dropDb,
    bassTone: frequencyText(bass.frequencyHz),
    bass: dropWords(bass),
    referenceTone: frequencyText(reference.frequencyHz),
    reference: dropWords(reference),
  })
  return isHeard(bass.phon.after) || isHeard(reference.phon.after) ? `${drops} ${lossSentence(bass, reference)}` : drops
}

function dropWords({ phon, sones }: LevelDrop): string {
  const before = wholeText(phon.before)
  if (!isHeard(phon.after)) return say.dropToNothing({ before })
  return say.dropTo({ before, after: wholeText(phon.after), part: fractionWords(sones.after / sones.before) })
}

function lossSentence(bass: LevelDrop, reference: LevelDrop): string {
  if (bass.sones.after < reference.sones.after) return say.bassLosesMore()
  return bass.phon.before < statedPhons.from ? say.bassDoesNotNearThreshold() : say.bassDoesNot()
}
