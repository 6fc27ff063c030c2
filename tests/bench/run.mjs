// npm run bench: prints how long things take and how much a page loads. Only what a page has to reach in the browser fails.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { browserEnvironment } from '../../src/tools/browser.mjs'
import { projectRoot, run, setUp } from '../../src/tools/set-up.mjs'

setUp()
const { loadSolvedRig } = await import('../../src/engine/scene/solved-gear.ts')
const { demoHallStates } = await import('../../src/engine/scene/hall-content.ts')
const { hallAnswer, hallMap } = await import('../../src/engine/questions/hall/hall-parts.ts')
const { hallResponses } = await import('../../src/engine/scene/hall-responses.ts')
const { steerAnswer, steerPicture } = await import('../../src/engine/questions/steer/steer.ts')
const { steerSearchPlan, steerSearchStep } = await import('../../src/engine/questions/steer/steer-search.ts')
const { steerTogetherPlan, steerTogetherStep } = await import('../../src/engine/questions/steer/steer-together.ts')
const { planAnswer, planLevels } = await import('../../src/engine/questions/plan/plan.ts')
const { planMap } = await import('../../src/engine/questions/plan/plan-map.ts')
const { planPicture, walkAnswer, walkResponses } = await import('../../src/engine/questions/walk/walk.ts')
const { recordingPart, recordingPlan } = await import('../../src/engine/questions/compare/recording.ts')
const { demoRigNames, rigOf } = await import('../demo-gear.ts')
const { hallCellsAcross, pictureParts } = await import('../../src/widgets/walk-round/picture-parts.ts')

/** Runs `work` and returns its median and worst time, ms, after a warm-up. */
function timed(work, rounds = 15) {
  work(0)
  const times = Array.from({ length: rounds }, (_, round) => {
    const start = performance.now()
    work(round + 1)
    return performance.now() - start
  }).sort((a, b) => a - b)
  return { median: times[Math.floor(rounds / 2)], worst: times.at(-1) }
}
/** Ten minutes of a stereo recording, 16 bits at 48 kHz, from the file's bytes to the levels of its blocks. */
async function printRecording() {
  const frames = 600 * 48000
  const head = new DataView(new ArrayBuffer(44))
  const text = (at, letters) => new Uint8Array(head.buffer).set(new TextEncoder().encode(letters), at)
  text(0, 'RIFF')
  head.setUint32(4, 36 + 4 * frames, true)
  text(8, 'WAVEfmt ')
  for (const [at, value] of [
    [16, 16],
    [24, 48000],
    [28, 192000],
    [40, 4 * frames],
  ])
    head.setUint32(at, value, true)
  for (const [at, value] of [
    [20, 1],
    [22, 2],
    [32, 4],
    [34, 16],
  ])
    head.setUint16(at, value, true)
  text(36, 'data')
  const data = Int16Array.from({ length: 2 * frames }, () => 8000 * (Math.random() - 0.5))
  const file = new Blob([head.buffer, data])
  const start = performance.now()
  const { layout, stretches } = await recordingPlan({ file })
  for (const stretch of stretches) await recordingPart({ file, layout, channels: [0, 1], stretch })
  const tookMs = performance.now() - start
  print(`ten minutes of stereo, ${stretches.length} stretches`, { median: tookMs, worst: tookMs })
}
/** A plan of 12 boxes and 8 places in the demo hall: what is set at a box, a box that is moved, and a place; coarsely, all of it, and the map. */
async function printPlan() {
  const rig = rigOf('top-over-sub')
  await loadSolvedRig(rig)
  const boxes = Object.fromEntries(rig.cabinets.map(({ frontCentre: _, ...box }) => [`top-over-sub/${box.name}`, box]))
  const cabinets = Array.from({ length: 12 }, (_, i) => ({
    id: `c${i}`,
    box: `top-over-sub/${i % 2 ? 'sub' : 'top'}`,
    xM: -4.5 + 1.7 * Math.floor(i / 2),
    zM: 3,
    baseM: i % 2 ? 0 : 1.62,
    yawRad: 0,
    levelDb: 0,
    delayS: 0,
    polarity: 1,
  }))
  const places = Array.from({ length: 8 }, (_, i) => ({ id: `p${i}`, xM: i - 4, zM: 6 + 1.4 * i, earM: 1.6 }))
  const surroundings = { kind: 'hall', design: demoHallStates[1].design }
  const question = { rigs: [], boxes, surroundings, cabinets, places, mainPlace: 'p0', programmeDbA: 95 }
  const changed = (list, index, change) => list.map((each, i) => (i === index ? { ...each, ...change } : each))
  for (const [what, ask] of [
    ['another delay', (round) => ({ cabinets: changed(cabinets, 1, { delayS: 0.001 * (round + 1) }) })],
    ['a sub moved', (round) => ({ cabinets: changed(cabinets, 1, { zM: 3.05 + 0.05 * round }) })],
    ['a top moved', (round) => ({ cabinets: changed(cabinets, 0, { zM: 3.05 + 0.05 * round }) })],
    ['a place moved', (round) => ({ places: changed(places, 1, { zM: 8 + 0.05 * round }) })],
  ])
    for (const [how, answer] of [
      ['coarse', planLevels],
      ['all', planAnswer],
    ])
      print(
        `plan of 12 boxes and 8 places: ${what}, ${how}`,
        timed((round) => answer({ ...question, ...ask(round) }), 5),
      )
  const map = { part: 'bass', floor: { widthM: 11, lengthM: 18 }, heightM: 1.6, columns: 8, rows: 12, fromRow: 0 }
  const subMoved = (round) => ({ cabinets: changed(cabinets, 1, { zM: 3.05 + 0.05 * round }) })
  print(
    'plan of 12 boxes: coarse map of the bass, a sub moved',
    timed((round) => planMap({ ...question, ...subMoved(round), ...map, toRow: 12 }), 5),
  )
  const strip = { ...map, columns: 16, rows: 26, toRow: 1 }
  print(
    'plan of 12 boxes: one strip of 26 of the fine map',
    timed((round) => planMap({ ...question, ...strip, fromRow: round, toRow: round + 1 }), 5),
  )
}
const print = (what, { median, worst }) =>
  console.log(`${what.padEnd(58)} ${median.toFixed(1).padStart(8)} ms   worst ${worst.toFixed(1)} ms`)

console.log('\nIn Node, one thread')
await printRecording()
await printPlan()
for (const name of demoRigNames()) {
  const rig = rigOf(name)
  await loadSolvedRig(rig)
  const place = (round) => ({ angleRad: Math.PI - round * 0.02, distanceM: 2.5 })
  const grid = { xMinM: -4.4, xMaxM: 4.4, zMinM: -4.4, zMaxM: 4.4, columns: 160, rows: 120, heightM: 1.6 }
  print(
    `${name}: levels here and in front, 28 bands`,
    timed((round) => walkAnswer({ rig, place: place(round), datum: 'front-face' })),
  )
  print(
    `${name}: waves on 160 × 120 points, 2 kHz`,
    timed(() => planPicture({ rig, grid, frequencyHz: 2000, kind: 'waves' }), 5),
  )
  print(
    `${name}: levels on 160 × 120 points, 2 kHz band`,
    timed(() => planPicture({ rig, grid, frequencyHz: 2000, kind: 'levels' }), 5),
  )
  print(
    `${name}: two impulse responses, 8192 samples`,
    timed(
      (round) => walkResponses({ rig, place: place(round), datum: 'front-face', sampleRateHz: 48000, length: 8192 }),
      5,
    ),
  )
}

{
  const rig = JSON.parse(readFileSync(join(projectRoot, 'content/gear/top-over-sub.json'), 'utf8'))
  await loadSolvedRig(rig)
  const hall = demoHallStates[0].design
  const place = (round) => ({ xM: 0.05 * round, zM: -2.5 })
  const start = performance.now()
  hallAnswer({ rig, hall, place: place(0), bandHz: 2000 })
  print('hall: the first answer', { median: performance.now() - start, worst: performance.now() - start })
  print(
    'hall: parts here and in front',
    timed((round) => hallAnswer({ rig, hall, place: place(round), bandHz: 2000 }), 9),
  )
  for (const frequencyHz of [30, 47, 120]) {
    print(
      `hall: map at ${frequencyHz} Hz`,
      timed(
        (round) =>
          hallMap({
            rig,
            hall,
            frequencyHz: frequencyHz - (frequencyHz > 40 ? (round % 2) / 100 : 0),
            source: 'usual',
          }),
        7,
      ),
    )
  }
  const surroundings = { kind: 'hall', design: hall }
  print(
    'walk-round in the hall: levels here and in front',
    timed(
      (round) =>
        walkAnswer({
          rig,
          place: { angleRad: Math.PI - round * 0.02, distanceM: 2.5 },
          datum: 'front-face',
          surroundings,
        }),
      9,
    ),
  )
  for (const { frequencyHz, grid } of [
    ...pictureParts('two', 80, hallCellsAcross),
    ...pictureParts('one', 63, hallCellsAcross),
  ]) {
    print(
      `walk-round in the hall: ${grid.columns} × ${grid.rows} levels at ${frequencyHz} Hz`,
      timed(() => planPicture({ rig, grid, frequencyHz, kind: 'levels', surroundings }), 5),
    )
  }
  print(
    'hall: two impulse responses with their decay',
    timed((round) => hallResponses({ rig, hall, place: place(round), compare: 'places', sampleRateHz: 48000 }), 3),
  )
}

{
  const rig = JSON.parse(readFileSync(join(projectRoot, 'content/gear/top-over-sub.json'), 'utf8'))
  await loadSolvedRig(rig)
  const pair = {
    arrangement: 'pair',
    count: 2,
    spacingM: 1.35,
    delayS: 0.0039,
    inverted: true,
    turned: false,
    levelDb: 0,
  }
  const outdoors = {
    rig,
    point: false,
    set: pair,
    surroundings: { kind: 'outdoors', floor: 'hard' },
    front: { xM: 0, zM: 5 },
    behind: { xM: 0, zM: -4 },
    band: { fromHz: 40, toHz: 100 },
    frequencyHz: 63,
    error: 'none',
  }
  const once = (what, work) => {
    const start = performance.now()
    work()
    const spent = performance.now() - start
    print(what, { median: spent, worst: spent })
  }
  const late = (round) => ({ ...pair, delayS: 0.0039 + round * 1e-5 })
  print(
    'steered pair: new delay',
    timed((round) => steerAnswer({ ...outdoors, set: late(round) }), 9),
  )
  print(
    'steered pair: new spacing',
    timed((round) => steerAnswer({ ...outdoors, set: { ...pair, spacingM: 1.35 + 0.05 * round } }), 9),
  )
  print(
    'steered pair: map',
    timed((round) => steerPicture({ ...outdoors, frequencyHz: 63 + round, show: 'set' }), 5),
  )
  once('steered pair: whole search', () => {
    for (const step of steerSearchPlan(outdoors)) steerSearchStep(step)
  })
  once('steered pair: solved together', () => {
    for (const step of steerTogetherPlan(outdoors)) steerTogetherStep(step)
  })
  const inHall = {
    ...outdoors,
    surroundings: { kind: 'hall', design: demoHallStates[0].design },
    behind: { xM: 0, zM: -2.5 },
  }
  once('steered pair in the hall: the first answer', () => steerAnswer(inHall))
  print(
    'steered pair in the hall: new delay',
    timed((round) => steerAnswer({ ...inHall, set: late(round) }), 5),
  )
}

const { convergenceBench, groupBench, ownBoxBench, solverBench } = await import('./solver.mjs')
convergenceBench()
groupBench()
solverBench()
await ownBoxBench()
const { ownRigBench } = await import('./own-rig.mjs')
await ownRigBench()

const browserAt = await browserEnvironment()
if (browserAt && (await run('astro', ['build', '--silent'])) === 0) {
  const { printInBrowser } = await import('./in-browser.mjs')
  const { printLighthouse } = await import('./lighthouse.mjs')
  const folder = join(projectRoot, 'dist')
  const isQuick = await printInBrowser(folder, browserAt.CHROMIUM_PATH)
  const isReached = await printLighthouse(folder, browserAt.CHROMIUM_PATH)
  const { printLoad } = await import('./load.mjs')
  const isHeld = !browserAt.NGINX_PATH || (await printLoad(folder, browserAt.NGINX_PATH))
  if (!isQuick || !isReached || !isHeld) process.exitCode = 1
}
