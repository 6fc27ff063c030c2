import { loudnessBark } from '../../../src/acoustics/hearing/loudness-bark.ts'
import { phonsFromSones, sonesFromPhons } from '../../../src/acoustics/hearing/sone-phon.ts'
import { zwickerLoudness } from '../../../src/acoustics/hearing/zwicker-loudness.ts'
import type { Check, CheckGroup } from '../check.ts'
import bands from '../reference/critical-bands.json' with { type: 'json' }
import reference from '../reference/zwicker-loudness.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')
const source = 'iso-532-1'
const narrower = 'the standard allows the greater of 5 % and 0.1;'

const signals: Check[] = reference.signals.flatMap(({ signal, name, field, levelsDb, sones, phons, specific }) => {
  const loudness = () => zwickerLoudness(levelsDb, field as 'free' | 'diffuse')
  const input = `test signal ${signal}, ${name}, ${field} field`
  return [
    {
      id: `loudness-signal-${signal}`,
      kind: 'outside',
      quantity: `Loudness of test signal ${signal}`,
      unit: 'sone',
      source,
      place: `Annex B, test signal ${signal}`,
      input,
      expected: sones,
      tolerance: 0.001,
      toleranceReason: `${narrower} the standard’s own program puts its band limits 0.0001 Bark higher, which makes up to 0.0006 sone, and levels rounded to 0.001 dB up to 0.001`,
      computed: () => loudness().sones,
    },
    {
      id: `loudness-level-signal-${signal}`,
      kind: 'outside',
      quantity: `Loudness level of test signal ${signal}`,
      unit: 'phon',
      source,
      place: `Annex B, test signal ${signal}`,
      input,
      expected: phons,
      tolerance: 0.001,
      toleranceReason: 'printed to 0.001 phon or finer, and 0.001 dB of rounding of the levels',
      computed: () => loudness().phons,
    },
    ...specific.map(
      ({ bark, value }): Check => ({
        id: `specific-loudness-signal-${signal}-${bark}`,
        kind: 'outside',
        quantity: `Specific loudness of test signal ${signal} at ${bark} Bark`,
        unit: 'sone/Bark',
        source,
        place: `Annex B, test signal ${signal}`,
        input,
        expected: value,
        tolerance: 0.001,
        toleranceReason: `${narrower} printed to 0.001 or finer, and the levels are rounded to 0.001 dB`,
        computed: () => loudness().specific[bark * 10 - 1] as number,
      }),
    ),
  ]
})

/** The 1 kHz tone of test signal 3 at another level. */
const toneLevels = reference.signals.find(({ signal }) => signal === 3)?.levelsDb ?? []
const toneSones = (levelDb: number) =>
  zwickerLoudness(
    toneLevels.map((level) => level + levelDb - 60),
    'free',
  ).sones

const tones: Check[] = [40, 50, 60, 70, 80, 90, 100].map((levelDb) => ({
  id: `loudness-tone-1000-${levelDb}`,
  kind: 'outside',
  quantity: `Loudness of a 1 kHz tone of ${levelDb} dB`,
  unit: 'sone',
  source,
  place: 'definition of the sone: 1 sone at 40 dB, twice as much for each 10 dB more',
  input: `1 kHz, ${levelDb} dB, with what the filters let through beside it`,
  expected: 2 ** ((levelDb - 40) / 10),
  tolerance: Math.max(0.05 * 2 ** ((levelDb - 40) / 10), 0.1),
  toleranceReason:
    'what the standard allows: the greater of 5 % and 0.1 sone; the method only approximates the definition',
  computed: () => toneSones(levelDb),
}))

const sonePhon: Check[] = bands.sonePhon.flatMap(({ sones, phons }) => [
  {
    id: `phons-from-sones-${idPart(sones)}`,
    kind: 'outside',
    quantity: `Loudness level of ${sones} sone`,
    unit: 'phon',
    source,
    place: 'rule for the loudness level',
    input: `${sones} sone`,
    expected: phons,
    tolerance: 0.0005,
    toleranceReason: 'the expected value is rounded to 0.001 phon',
    computed: () => phonsFromSones(sones),
  },
  {
    id: `sones-from-phons-${idPart(phons)}`,
    kind: 'outside',
    quantity: `Loudness of ${phons} phon`,
    unit: 'sone',
    source,
    place: 'rule for the loudness level, solved for loudness',
    input: `${phons} phon`,
    expected: sones,
    tolerance: 0.0001,
    toleranceReason: 'phon is given to 0.0005, which is worth 0.0001 sone at most below 1 sone',
    computed: () => sonesFromPhons(phons),
  },
])

const scale = {
  unit: 'Bark',
  source: 'zwicker-1961-critical-bands',
  tolerance: 0.2,
  toleranceReason:
    'the loudness method puts whole third octaves on the scale, with limits in steps of 0.1 Bark; 0.2 Bark is how far the usual formula (Zwicker and Terhardt 1980) is from the same table',
}
const barkScale: Check[] = [
  ...bands.edgesHz.map(
    (edgeHz, bark): Check => ({
      ...scale,
      id: `critical-band-edge-${edgeHz}`,
      kind: 'outside',
      quantity: `Critical-band rate of the edge at ${edgeHz} Hz`,
      place: 'table of critical bands, edges',
      input: `${edgeHz} Hz`,
      expected: bark,
      computed: () => loudnessBark(edgeHz),
    }),
  ),
  ...bands.centresHz.map(
    (centreHz, i): Check => ({
      ...scale,
      id: `critical-band-centre-${centreHz}`,
      kind: 'outside',
      quantity: `Critical-band rate of the centre at ${centreHz} Hz`,
      place: 'table of critical bands, centres',
      input: `${centreHz} Hz`,
      expected: i + 0.5,
      computed: () => loudnessBark(centreHz),
    }),
  ),
]

export const loudnessChecks: CheckGroup = {
  title: 'Loudness and critical bands',
  checks: [...signals, ...tones, ...sonePhon, ...barkScale],
}
