import type { Values } from '../../../../../src/engine/questions/check/check-terms.ts'

/** The right answer of a question by a way that uses nothing of ours but the speed of sound c, m/s. */
export type SecondWay = (values: Values, c: number) => number

/** A value that a question is known to have. */
const of =
  <N extends string>(compute: (values: Readonly<Record<N, number>>, c: number) => number): SecondWay =>
  (values, c) =>
    compute(values as Readonly<Record<N, number>>, c)

const lg = Math.log10
const path = of<'distanceM' | 'depthM'>(({ distanceM: r, depthM: d }) => 20 * lg(1 + d / r))
const tan = (deg: number) => Math.tan((deg * Math.PI) / 180)

/** By lesson and question. */
export const secondWays: Readonly<Record<string, Readonly<Record<string, SecondWay>>>> = {
  'walk-round-the-back': {
    wave: of<'frequencyHz'>(({ frequencyHz }, c) => c / frequencyHz),
    power: of<'dropDb'>(({ dropDb }) => Math.exp((-Math.LN10 * dropDb) / 10)),
    path,
    farther: of<'nearM' | 'farM'>(({ nearM, farM }) => 20 * lg(farM / nearM)),
  },
  'small-box-long-wave': {
    asLong: of<'widthM'>(({ widthM }, c) => c / widthM),
    waves: of<'frequencyHz' | 'widthM'>(({ frequencyHz, widthM }, c) => c / frequencyHz / widthM),
    // ka = 1, a = w/2, k = 2πf/c.
    begins: of<'widthM'>(({ widthM }, c) => c / (2 * Math.PI * (widthM / 2))),
    trap: path,
  },
  'what-a-horn-holds': {
    letsGo: of<'mouthM' | 'labelDeg'>(({ mouthM, labelDeg }, c) => (((1e6 * 0.0254) / labelDeg / mouthM) * c) / 343.2),
    across: of<'mouthM' | 'frequencyHz'>(({ mouthM, frequencyHz }, c) => mouthM / (c / frequencyHz)),
    mouthFor: of<'labelDeg' | 'frequencyHz'>(
      ({ labelDeg, frequencyHz }, c) => (((1e6 * 0.0254) / labelDeg / frequencyHz) * c) / 343.2,
    ),
    // sin θ = 2t/(1 + t²) with t = tan θ/2.
    edges: of<'mouthM' | 'asideDeg'>(({ mouthM, asideDeg }) => {
      const t = tan(asideDeg / 2)
      return (mouthM * 2 * t) / (1 + t * t)
    }),
  },
  'tall-and-thin': {
    oneWave: of<'columnM'>(({ columnM }, c) => c / columnM),
    waves: of<'columnM' | 'frequencyHz'>(({ columnM, frequencyHz }, c) => columnM / (c / frequencyHz)),
    further: of<'spacingM'>(({ spacingM }, c) => c / spacingM),
    // The first angle at which sin u/u changes its sign, in steps of a thousandth of a degree.
    firstNull: of<'columnM' | 'frequencyHz'>(({ columnM, frequencyHz }, c) => {
      const u = (deg: number) => ((Math.PI * columnM * frequencyHz) / c) * Math.sin((deg * Math.PI) / 180)
      let deg = 0.001
      while (Math.sin(u(deg)) > 0) deg += 0.001
      return deg
    }),
  },
  'what-your-ear-makes-of-it': {
    louder: of<'moreDb'>(({ moreDb }) => Math.exp((Math.LN2 * moreDb) / 10)),
    share: of<'bassSones' | 'wholeSones'>(({ bassSones, wholeSones }) => bassSones / wholeSones),
    tone: of<'toneDb'>(({ toneDb }) => Math.exp((Math.LN2 * (toneDb - 40)) / 10)),
    stay: of<'levelDbA'>(({ levelDbA }) => 8 * Math.exp((-Math.LN2 * (levelDbA - 85)) / 3)),
  },
  'the-wall-joins-in': {
    firstDip: of<'faceToWallM'>(({ faceToWallM }, c) => c / (4 * faceToWallM)),
    firstRise: of<'faceToWallM'>(({ faceToWallM }, c) => c / (2 * faceToWallM)),
    closeEnough: of<'frequencyHz'>(({ frequencyHz }, c) => c / frequencyHz / 4),
    // 1/r against 1/r − 1/(r + 2d).
    deep: of<'listenerM' | 'faceToWallM'>(
      ({ listenerM: r, faceToWallM: d }) => 20 * lg(1 / r / (1 / r - 1 / (r + 2 * d))),
    ),
  },
  'the-hall-fills-the-rest': {
    resonance: of<'lengthM'>(({ lengthM }, c) => c / 2 / lengthM),
    // The printed formulas, without what the air takes.
    critical: of<'lengthM' | 'widthM' | 'heightM' | 'takenShare'>(
      ({ lengthM: l, widthM: w, heightM: h, takenShare: a }) =>
        Math.sqrt((2 * (l * w + l * h + w * h) * a) / (1 - a) / (16 * Math.PI)),
    ),
    softer: of<'moreTimes'>(({ moreTimes }) => 10 * lg(moreTimes)),
    rings: of<'volumeM3' | 'surfaceM2' | 'takenShare'>(
      ({ volumeM3, surfaceM2, takenShare }, c) => (24 * Math.LN10 * volumeM3) / (c * surfaceM2 * takenShare),
    ),
  },
  'bass-that-takes-sides': {
    delay: of<'spacingM'>(({ spacingM }, c) => spacingM / c),
    quarter: of<'frequencyHz'>(({ frequencyHz }, c) => c / (4 * frequencyHz)),
    loss: of<'spacingM' | 'frequencyHz'>(
      ({ spacingM, frequencyHz }, c) => -20 * lg(Math.abs(Math.sin((2 * Math.PI * spacingM * frequencyHz) / c))),
    ),
    together: of<'lateDeg'>(({ lateDeg }) => 20 * lg(2 * Math.cos((lateDeg * Math.PI) / 360))),
  },
  'decide-and-set-up': {
    turnedDown: of<'subsDb' | 'topsDb' | 'downDb'>(({ subsDb, topsDb, downDb }) => {
      const [subs, tops] = [10 ** (subsDb / 10), 10 ** (topsDb / 10)]
      return 10 * lg((subs + tops) / (subs / 10 ** (downDb / 10) + tops))
    }),
    // Half a wave in the difference of the ways.
    cancels: of<'moreM'>(({ moreM }, c) => c / moreM / 2),
    without: of<'loudDb' | 'quietDb'>(({ loudDb, quietDb }) => 10 * lg(1 + 10 ** ((loudDb - quietDb) / 10))),
    away: of<'nearM' | 'lessDb'>(({ nearM, lessDb }) => nearM * Math.exp((Math.LN10 * lessDb) / 20)),
  },
  'prove-it-with-two-microphones': {
    // The second hole: three half waves in the way there and back.
    holes: of<'secondHoleHz'>(({ secondHoleHz }, c) => ((3 / 2) * (c / secondHoleHz)) / 2),
    averagedIn: of<'takeS' | 'talkS' | 'moreDb'>(
      ({ takeS, talkS, moreDb }) => 10 * lg(1 + (talkS / takeS) * (10 ** (moreDb / 10) - 1)),
    ),
    // The powers themselves: with the background, against what is left without it.
    lifted: of<'soundDb' | 'quietDb'>(({ soundDb, quietDb }) => {
      const [sound, quiet] = [10 ** (soundDb / 10), 10 ** (quietDb / 10)]
      return 10 * lg(sound / (sound - quiet))
    }),
    sends: of<'offsetDb' | 'shownDb' | 'behindM' | 'frontM'>(
      ({ offsetDb, shownDb, behindM, frontM }) => shownDb + offsetDb + 20 * lg(frontM / behindM),
    ),
  },
}
