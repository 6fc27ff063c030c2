import { frequencyText } from '../../words/frequencies.ts'
import { fractionWords } from '../../words/loudness.ts'
import { wholeText } from '../../words/numbers.ts'
import { statedPhons, thresholdPhon } from './contour-curves.ts'
import { dropDb, type LevelDrop } from './level-drop.ts'

/** Whether a tone of this loudness level is heard at all. */
const isHeard = (phon: number): boolean => phon > thresholdPhon + 0.05

/** What the dragged tone is as loud as. */
export function toneSentence(frequencyHz: number, levelDb: number, phon: number): string {
  const tone = `A tone of ${frequencyText(frequencyHz)} at ${wholeText(levelDb)} dB`
  if (!isHeard(phon)) return `${tone} is at the threshold of hearing: hardly to be heard at all.`
  if (frequencyHz === 1000)
    return `${tone} is ${wholeText(phon)} phon. 1 kHz is what every other tone is compared with, so there phon and dB are the same number.`
  const as = `${tone} is as loud as ${wholeText(phon)} dB at 1 kHz (${wholeText(phon)} phon).`
  return phon < statedPhons.from
    ? `${as} Below ${statedPhons.from} phon the standard gives its contours for information only.`
    : as
}

/** What 10 dB less does to the bass tone and to 1 kHz, both as loud as each other before. */
export function dropSentence(bass: LevelDrop, reference: LevelDrop): string {
  if (!isHeard(bass.phon.before)) return 'The tone is at the threshold of hearing. Drag it up to see what a drop does.'
  const parts = `${dropDb} dB less: at ${frequencyText(bass.frequencyHz)} ${dropWords(bass)}; at ${frequencyText(reference.frequencyHz)} ${dropWords(reference)}.`
  return `${parts} ${lossWords(bass, reference)}`.trim()
}

function dropWords({ phon, sones }: LevelDrop): string {
  if (!isHeard(phon.after)) return `from ${wholeText(phon.before)} phon to nothing that can be heard`
  return `from ${wholeText(phon.before)} to ${wholeText(phon.after)} phon, ${fractionWords(sones.after / sones.before)} as loud`
}

function lossWords(bass: LevelDrop, reference: LevelDrop): string {
  if (!isHeard(bass.phon.after) && !isHeard(reference.phon.after)) return ''
  if (bass.sones.after < reference.sones.after) return 'The bass loses more.'
  return bass.phon.before < statedPhons.from
    ? 'This near to the threshold of hearing the bass does not lose more.'
    : 'The bass does not lose more.'
}
