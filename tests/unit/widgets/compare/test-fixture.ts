import type { LevelSource, Take } from '../../../../src/engine/questions/compare/compare-terms.ts'
import type { SweptFinding } from '../../../../src/engine/questions/compare/sweep-terms.ts'
import { heardBands } from '../../../../src/engine/scene/third-octaves.ts'
import { emptyTest, skippedStep, withBoth, withPart } from '../../../../src/widgets/compare/kept-test.ts'

// A test with two microphones as a device keeps it.

export const level = { levelDb: -30, errorDb: 0.2, freedom: 20 }
export const take = (channelCount: 1 | 2): Take => ({
  sampleRateHz: 48000,
  durationS: 20,
  keptS: 18,
  channels: Array.from({ length: channelCount }, () => ({
    levels: heardBands.map((_, band) => (band === 0 ? null : level)),
    detail: [level, null],
    aWeightedDb: -25,
    cWeightedDb: null,
    peak: 0.4,
    confidence: { widest: { halfDb: 0.4, nominalHz: 40 }, isEnough: true, furtherS: 0 },
  })),
  paired: channelCount === 2 ? heardBands.map(() => level) : null,
  faults: [{ kind: 'talking', channel: 0, fromS: 1, toS: 2, amountDb: 4 }],
  clippedSamples: 0,
})
export const of = (given: Take, channel: number): LevelSource => ({ kind: 'take', take: given, channel })
export const entered: LevelSource = { kind: 'entered', levelsDb: heardBands.map(() => 60) }

export const swept = (name: string, findings: SweptFinding[] = []) => ({
  name,
  place: {
    sampleRateHz: 48000,
    durationS: 23,
    whole: heardBands.map(() => level),
    box: heardBands.map((_, band) => (band < 17 ? null : level)),
    validFromHz: 1122,
    gapS: 0.0046,
    decays: [
      { nominalHz: 63, decayS: null },
      { nominalHz: 125, decayS: 1.01 },
    ],
    findings,
  },
})

export const wholeTest = () => {
  const both = take(2)
  const test = emptyTest()
  test.steps.match = skippedStep()
  test.steps.quiet = withPart(withPart(test.steps.quiet, 'front', 'a.wav', of(take(1), 0)), 'behind', 'b.wav', entered)
  test.steps.sound = withBoth('both.wav', of(both, 0), of(both, 1))
  return test
}
