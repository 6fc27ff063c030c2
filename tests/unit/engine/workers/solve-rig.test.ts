import { beforeEach, describe, expect, test, vi } from 'vitest'
import { type ExpansionTable, makeAir, type Rig, solveCabinet } from '../../../../src/acoustics/index.ts'
import { addSolvedCabinet, cabinetKey, solvedModel, solvedToHz } from '../../../../src/engine/scene/solved-gear.ts'
import { plannedLines } from '../../../../src/engine/solving/planned-lines.ts'
import { solvingPlan } from '../../../../src/engine/solving/solve-table.ts'
import { solvedCeilingHz } from '../../../../src/engine/solving/solved-frequencies.ts'
import { createEngine, type Engine } from '../../../../src/engine/workers/engine.ts'

const air = makeAir()

/** A small box of two ways, far apart so that few lines are needed: a cone up to 25 Hz, a dome from 14 kHz. */
const rig: Rig = {
  name: 'mine',
  cabinets: [
    {
      name: 'box',
      widthM: 0.1,
      heightM: 0.15,
      depthM: 0.1,
      frontCentre: { xM: 0, yM: 1.6, zM: 0 },
      ways: [
        {
          name: 'low',
          drivers: [{ kind: 'piston', radiusM: 0.03, xM: 0, yM: -0.03 }],
          lowPass: { alignment: 'linkwitz-riley', order: 4, frequencyHz: 25 },
        },
        {
          name: 'high',
          drivers: [{ kind: 'piston', radiusM: 0.01, xM: 0, yM: 0.05 }],
          highPass: { alignment: 'linkwitz-riley', order: 4, frequencyHz: 14000 },
        },
      ],
    },
  ],
}
const boxes = (rig.cabinets[0]?.ways ?? []).map(({ drivers }) => ({ widthM: 0.1, heightM: 0.15, depthM: 0.1, drivers }))
const [low, high] = boxes as [(typeof boxes)[number], (typeof boxes)[number]]

/** A pool that works in this thread but passes for one with workers, and counts what it is asked. */
function pool(asked: string[] = []): Engine {
  const engine = createEngine()
  return {
    ask: engine.ask,
    askEach: (channel, task, questions, onAnswer) => {
      asked.push(task)
      return engine.askEach(channel, task, questions, onAnswer)
    },
    teach: engine.teach,
    idle: engine.idle,
    cancel: engine.cancel,
    dispose: engine.dispose,
    withoutWorkers: false,
  }
}
/** The page's engine: what it learns is what this thread knows. */
const engine: Engine = { ...pool(), teach: addSolvedCabinet }

/** What the page remembers is forgotten before each test, as on a new visit. */
let solveRig: typeof import('../../../../src/engine/workers/solve-rig.ts').solveRig
beforeEach(async () => {
  vi.resetModules()
  solveRig = (await import('../../../../src/engine/workers/solve-rig.ts')).solveRig
})

describe('the plan of a rig', () => {
  test('asks for ways of one box together where they share frequencies, the quick ones first', () => {
    const top: Rig = {
      ...rig,
      cabinets: rig.cabinets.map((cabinet) => ({
        ...cabinet,
        ways: cabinet.ways.map((way) => ({ name: way.name, drivers: way.drivers })),
      })),
    }
    const { ways } = solvingPlan({ rig: top, detail: 'onDemand' })
    const lines = plannedLines(ways)
    expect(ways).toHaveLength(2)
    expect(lines).toHaveLength(ways[0]?.frequenciesHz.length ?? Number.NaN)
    for (const { question, keys } of lines) expect([question.driverSets.length, keys.length]).toEqual([2, 2])
    const frequenciesHz = lines.map(({ question }) => question.frequencyHz)
    expect(frequenciesHz).toEqual([...frequenciesHz].sort((a, b) => a - b))
    expect(frequenciesHz.at(-1)).toBe(solvedCeilingHz)
    expect(frequenciesHz[0]).toBeLessThanOrEqual(20)
    // No more than a third of an octave lower
    expect(frequenciesHz[0]).toBeGreaterThan(15)
  })

  test('takes alike cabinets once, and only what a way plays', () => {
    const [one] = rig.cabinets
    if (!one) throw new Error('no cabinet')
    const pair: Rig = { ...rig, cabinets: [one, { ...one, name: 'other', frontCentre: { xM: 1, yM: 1.6, zM: 0 } }] }
    const { ways } = solvingPlan({ rig: pair, detail: 'beforehand' })
    expect(ways.map(({ key }) => key)).toEqual([cabinetKey(low), cabinetKey(high)])
    // Three octaves beyond the crossovers
    expect(ways[0]?.frequenciesHz.at(-1)).toBeGreaterThanOrEqual(200)
    expect(ways[0]?.frequenciesHz.at(-1)).toBeLessThan(212)
    expect(ways[0]?.directionsHz).toEqual([])
    expect(ways[1]?.frequenciesHz[0]).toBeGreaterThan(1600)
    expect(ways[1]?.directionsHz.at(-1)).toBeCloseTo(25000, 6)
  })

  test('ends where boundary elements end for a large box, and where the model ends for a large driver', () => {
    const [one] = rig.cabinets
    if (!one) throw new Error('no cabinet')
    const drivers = [{ kind: 'piston' as const, radiusM: 0.6, xM: 0, yM: 0 }]
    const large: Rig = {
      name: 'large',
      cabinets: [{ ...one, widthM: 2, heightM: 2, depthM: 2, ways: [{ name: 'all', drivers }] }],
    }
    const [way] = solvingPlan({ rig: large, detail: 'onDemand' }).ways
    expect(way?.frequenciesHz.at(-1)).toBeLessThan(600)
    expect(way?.directionsHz[0]).toBe(way?.frequenciesHz.at(-1))
    expect(way?.directionsHz.at(-1)).toBeLessThan(11000)
  })
})

describe('solving a rig', () => {
  test('teaches what solving each cabinet by itself gives, tells how far it is, and keeps it', async () => {
    const progress: [number, number][] = []
    const kept = new Map<string, ExpansionTable>()
    const asked: string[] = []
    const onRefined = vi.fn()
    const watch = {
      makePool: () => pool(asked),
      onProgress: ({ done, total }: { done: number; total: number }) => progress.push([done, total]),
      onRefined,
      store: {
        read: async () => undefined,
        keep: async (key: string, table: ExpansionTable) => void kept.set(key, table),
        drop: async () => {},
      },
    }
    expect(await solveRig(engine, rig, watch).finished).toBe('solved')
    const total = progress[0]?.[1] ?? 0
    expect(progress.map(([done]) => done)).toEqual(Array.from({ length: total + 1 }, (_, done) => done))
    expect(onRefined.mock.calls.length).toBeGreaterThan(4)
    expect(solvedToHz(low)).toBeGreaterThan(200)
    expect(solvedToHz(high)).toBe(solvedCeilingHz)
    for (const [box, frequencyHz] of [
      [low, 77],
      [high, 1900],
    ] as const) {
      const [taught, alone] = [solvedModel(box, frequencyHz, air), solveCabinet(box, frequencyHz, air)]
      for (const angle of [-2.5, -1, 1, 2.5]) {
        // 0.1 dB: what is lost between lines
        expect(Math.abs(taught.farFieldDb(angle, 0) - alone.farFieldDb(angle, 0))).toBeLessThan(0.1)
      }
    }
    // The treble of the dome: in front the level of the model that it comes from, averaged over a sixth of an octave.
    const [taught, alone] = [solvedModel(high, 5000, air), solveCabinet(high, 5000, air)]
    for (const angle of [-0.6, 0.6]) {
      const point = { xM: 4 * Math.sin(angle), yM: 0.05, zM: 4 * Math.cos(angle) }
      const [a, b] = [taught.pressureAt(point), alone.pressureAt(point)]
      expect(Math.abs(20 * Math.log10(Math.hypot(a.re, a.im) / Math.hypot(b.re, b.im)))).toBeLessThan(1.5)
    }

    // A second look at the same rig, and a second visit with the store, solve nothing.
    asked.length = 0
    expect(await solveRig(engine, rig, { makePool: () => pool(asked) }).finished).toBe('solved')
    vi.resetModules()
    const nextVisit = await import('../../../../src/engine/workers/solve-rig.ts')
    const store = {
      read: async (key: string) => structuredClone(kept.get(key)),
      keep: async () => {},
      drop: async () => {},
    }
    expect(await nextVisit.solveRig(engine, rig, { makePool: () => pool(asked), store }).finished).toBe('solved')
    expect(asked).toEqual([])

    // What the store gives back spoilt goes, and is solved anew.
    const highKey = [...kept.keys()].at(-1) ?? ''
    const spoilings: [string, (table: ExpansionTable) => unknown][] = [
      ['nothing but null', () => null],
      ['no lines', () => ({ lines: [] })],
      ['a null line', ({ lines, ...rest }) => ({ ...rest, lines: [...lines.slice(0, 3), null, ...lines.slice(4)] })],
      ['a line too few', ({ lines, ...rest }) => ({ ...rest, lines: lines.slice(1) })],
      [
        'a coefficient that is no number',
        (table) => {
          ;(table.lines[2]?.re as Float64Array)[1] = Number.NaN
          return table
        },
      ],
      [
        'both lists of a line too short',
        ({ lines, ...rest }) => ({
          ...rest,
          lines: lines.map((line) => ({
            ...line,
            re: [...Array.from(line.re)].slice(1),
            im: Array.from(line.im).slice(1),
          })),
        }),
      ],
      ['no treble', ({ directions: _, ...rest }) => rest],
      [
        'a level that is no number',
        (table) => {
          ;(table.directions?.levelsDb as Float32Array)[5] = Number.NaN
          return table
        },
      ],
    ]
    vi.resetModules()
    const later = await import('../../../../src/engine/workers/solve-rig.ts')
    for (const [what, spoil] of spoilings) {
      asked.length = 0
      const dropped: string[] = []
      const solving = later.solveRig(engine, rig, {
        makePool: () => pool(asked),
        store: {
          read: async (key) => {
            const table = structuredClone(kept.get(key)) as ExpansionTable
            return key === highKey ? spoil(table) : table
          },
          keep: async () => {},
          drop: async (key) => void dropped.push(key),
        },
        onProgress: () => solving.cancel(),
      })
      expect(await solving.finished, what).toBe('stopped')
      expect(asked, what).toEqual(['solvedLines'])
      expect(dropped, what).toEqual([highKey])
    }
  })

  test('ends at once when it is cancelled', async () => {
    const done: number[] = []
    const solving = solveRig(engine, rig, {
      makePool: () => pool(),
      onProgress: (progress) => {
        done.push(progress.done)
        if (progress.done === 2) solving.cancel()
      },
    })
    expect(await solving.finished).toBe('stopped')
    expect(done).toEqual([0, 1, 2])
  })

  test('begins when the engine rests: the first answers of a page do not wait for it', async () => {
    const makePool = vi.fn(pool)
    let rest = () => {}
    const idle = vi.fn(
      () =>
        new Promise<void>((resolve) => {
          rest = resolve
        }),
    )
    const solving = solveRig({ ...engine, idle }, rig, {
      makePool: () => makePool(),
      onProgress: () => solving.cancel(),
    })
    await vi.waitFor(() => expect(idle).toHaveBeenCalledOnce(), { timeout: 30_000 })
    expect(makePool).not.toHaveBeenCalled()
    rest()
    expect(await solving.finished).toBe('stopped')
    expect(makePool).toHaveBeenCalledOnce()
  })

  test('leaves a browser without workers alone', async () => {
    const makePool = vi.fn(createEngine)
    expect(await solveRig({ ...engine, withoutWorkers: true }, rig, { makePool }).finished).toBe('no-workers')
    expect(makePool).not.toHaveBeenCalled()
  })

  test('rejects with the error of a rig that cannot be solved', async () => {
    const [one] = rig.cabinets
    if (!one) throw new Error('no cabinet')
    const bad: Rig = { ...rig, cabinets: [{ ...one, depthM: 0 }] }
    await expect(solveRig(engine, bad, { makePool: () => pool() }).finished).rejects.toThrow(/depthM is 0/)
  })
})
