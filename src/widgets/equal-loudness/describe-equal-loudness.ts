import { frequencyText } from '../../words/frequencies.ts'
import { statedPhons, thresholdPhon } from './contour-curves.ts'
import { dropDb, type LevelDrop } from './level-drop.ts'

/** A level as a reader can use it: whole dB with a true minus. */
export const dbText = (levelDb: number): string => {
  const rounded = Math.round(levelDb)
  return rounded < 0 ? `−${-rounded}` : String(rounded)
}

/** Sones of a tone: two digits, '4', '1.3', '0.05'. */
export const toneSonesText = (sones: number): string =>
  sones < 0.01 ? 'under 0.01' : String(Number(sones.toPrecision(2)))

/** Whether a tone of this loudness level is heard at all. */
const isHeard = (phon: number): boolean => phon > thresholdPhon + 0.05

/** What the dragged tone is as loud as. */
export function toneSentence(frequencyHz: number, levelDb: number, phon: number): string {
  const tone = `A tone of ${frequencyText(frequencyHz)} at ${dbText(levelDb)} dB`
  if (!isHeard(phon)) return `${tone} is at the threshold of hearing: hardly to be heard at all.`
  if (frequencyHz === 1000)
    return `${tone} is ${dbText(phon)} phon. 1 kHz is what every other tone is compared with, so there phon and dB are the same number.`
  const as = `${tone} is as loud as ${dbText(phon)} dB at 1 kHz (${dbText(phon)} phon).`
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
  if (!isHeard(phon.after)) return `from ${dbText(phon.before)} phon to nothing that can be heard`
  return `from ${dbText(phon.before)} to ${dbText(phon.after)} phon, ${fractionWords(sones.after / sones.before)} as loud`
}

function lossWords(bass: LevelDrop, reference: LevelDrop): string {
  if (!isHeard(bass.phon.after) && !isHeard(reference.phon.after)) return ''
  if (bass.sones.after < reference.sones.after) return 'The bass loses more.'
  return bass.phon.before < statedPhons.from
    ? 'This near to the threshold of hearing the bass does not lose more.'
    : 'The bass does not lose more.'
}

const fractions: [share: number, words: string][] = [
  [1 / 2, 'half'],
  [1 / 3, 'a third'],
  [1 / 4, 'a quarter'],
  [1 / 5, 'a fifth'],
  [1 / 10, 'a tenth'],
]

/** A share of loudness as people say it: 'half', 'about a third', 'about 40 %'. */
export function fractionWords(share: number): string {
  const near = fractions.find(([known]) => Math.abs(share / known - 1) < 0.08)
  if (near) return Math.abs(share / near[0] - 1) < 0.01 ? near[1] : `about ${near[1]}`
  if (share < 0.01) return 'less than 1 %'
  return `about ${share < 0.1 ? Math.round(100 * share) : 5 * Math.round(20 * share)} %`
}
