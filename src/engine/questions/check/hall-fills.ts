import { criticalDistanceM, decayTimeS, levelDb, shoeboxModesHz } from '../../../acoustics/index.ts'
import { needed } from '../fact.ts'
import { computed, type Draw, judgement } from './check-terms.ts'

/** Where the formulas are asked, Hz: so low that the air takes nothing, as they are printed. What the walls take is the same everywhere. */
const formulaHz = 20

type Sizes = { lengthM: number; widthM: number; heightM: number }

const drawSizes = ({ step }: Draw): Sizes => ({
  lengthM: step(14, 24, 1),
  widthM: step(8, 12, 1),
  heightM: step(4, 6, 0.5),
})
const surfaceM2 = ({ lengthM, widthM, heightM }: Sizes): number =>
  2 * (lengthM * widthM + lengthM * heightM + widthM * heightM)
const volumeM3 = ({ lengthM, widthM, heightM }: Sizes): number => lengthM * widthM * heightM
const hallOf = ({ lengthM, widthM, heightM, takenShare }: Sizes & { takenShare: number }) => ({
  lengthM,
  widthM,
  heightM,
  absorption: () => takenShare,
})

/** Lesson 7, The hall fills the rest. */
export const hallFillsQuestions = {
  treble: judgement({ anchor: 'see', choices: ['part', 'none', 'all'], right: 'part' }),
  resonance: computed({
    anchor: 'why-has-each-resonance-a-map-of-its-own',
    answer: 'frequency',
    tolerance: { part: 0.05 },
    draw: drawSizes,
    solve: (sizes, air) => needed(shoeboxModesHz(sizes, 200, air)[0], 'a first resonance').frequencyHz,
    worked: ({ lengthM }) => ({ wholeWaveM: 2 * lengthM }),
  }),
  corner: judgement({ anchor: 'the-low-end-is-different', choices: ['away', 'corner', 'wall'], right: 'away' }),
  critical: computed({
    anchor: 'how-do-power-distance-and-walls-balance',
    answer: 'length',
    tolerance: { part: 0.07 },
    draw: (draw) => {
      const sizes = drawSizes(draw)
      return { ...sizes, surfaceM2: surfaceM2(sizes), takenShare: draw.step(0.1, 0.4, 0.05) }
    },
    solve: (values, air) => criticalDistanceM(0, hallOf(values), formulaHz, air),
    worked: (values) => ({ roomM2: (values.surfaceM2 * values.takenShare) / (1 - values.takenShare) }),
  }),
  people: judgement({ anchor: 'do', choices: ['leave', 'down', 'bass'], right: 'leave' }),
  softer: computed({
    anchor: 'how-do-power-distance-and-walls-balance',
    answer: 'level',
    tolerance: { amount: 0.5 },
    draw: ({ among }) => ({ moreTimes: among([1.5, 2, 2.5, 3, 4, 5, 8]) }),
    solve: ({ moreTimes }) => levelDb(moreTimes),
  }),
  curtain: judgement({ anchor: 'do', choices: ['treble', 'bass', 'both'], right: 'treble' }),
  rings: computed({
    anchor: 'how-long-does-a-hall-ring',
    answer: 'decay',
    tolerance: { part: 0.07 },
    draw: (draw) => {
      const sizes = drawSizes(draw)
      return {
        ...sizes,
        volumeM3: volumeM3(sizes),
        surfaceM2: surfaceM2(sizes),
        takenShare: draw.step(0.1, 0.3, 0.05),
      }
    },
    solve: (values, air) => decayTimeS(hallOf(values), formulaHz, air, 'sabine'),
    worked: (values) => ({ areaM2: values.surfaceM2 * values.takenShare }),
  }),
}
