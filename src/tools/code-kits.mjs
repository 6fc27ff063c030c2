// How the code that runs in the browser is cut into files. Dozens of small files compress worse than a few, and are asked for one by
// one; one file for all would bring each page what only others need. tests/browser/weights.spec.ts holds what a page may weigh.

/** What is captured earlier is in no later kit; each brings along what its parts stand on. */
const kits = [
  // What every page needs.
  ['site-kit', /preload-helper|src\/(layouts\/page-start|state\/(preferences|site-air|enclosed-text))/],
  // The parts that nearly every figure is made of, and what wakes it.
  [
    'figure-kit',
    /node_modules\/(svelte|@astrojs\/svelte)\/|src\/(widgets\/figure\/(?!Guess|guess|ChangeGroup)|charts\/(Chart|chart-|Axis(Foot|Value|Level|Frequency)|Curve|Drag|drag-|TableTwin|Direct|Later|PlanHandle)|state\/kept-list-change)/,
  ],
  ['length-words', /src\/words\/(lengths|numbers)/],
  ['level-words', /src\/words\/(levels|directions)/],
  ['spectrum-kit', /src\/charts\/(Spectrum\.|Between)/],
  ['wave-kit', /src\/charts\/(WaveField|wave-shade|screen-order)/],
  ['plan-kit', /src\/charts\/(Plan(\.|Boxes|Line|Text)|plan-context)/],
  ['wall-kit', /src\/(charts\/PlanWalls|engine\/scene\/room)/],
  // A figure of one rig out of several, the reader's own included.
  ['rig-kit', /src\/widgets\/rig-choice\/(rig-figure|rig-choice)/],
  ['round-kit', /src\/charts\/Plan(Listener|Mark|Rings)/],
  // What every figure that can be heard has before the first press.
  [
    'hear-kit',
    /src\/(sound\/(load-sound|sound-limits)|widgets\/(listen\/Listen\.|player\/(page-sound|bar-at-hand|PlaceSwitch|switch)))/,
  ],
  // What stands in folds: fields and sliders. A page that folds them all fetches it with the first fold.
  ['control-kit', /src\/widgets\/(controls\/(?!Typed|typed|NumberField|FileButton)|figure\/ChangeGroup)/],
  ['band-kit', /src\/(acoustics\/bands\/octave-bands|engine\/scene\/third-octaves)/],
  ['air-kit', /src\/(acoustics\/medium\/air|engine\/scene\/air)\.ts/],
  // What pages that compare two recordings sum up.
  ['measuring-kit', /src\/(acoustics\/measuring\/(recording-bands|estimate)|widgets\/compare\/difference-lines)\.ts/],
  // Where a rig stands and how near to it one can.
  ['stand-kit', /src\/(acoustics\/field\/footprint|engine\/scene\/rig-outline)/],
].map(([name, test], index, all) => ({ name, test, priority: all.length - index }))

/** What of Svelte only fields need. All of Svelte hangs together by one list of what it exports, so this is taken out first and alone. */
const fieldBindings = {
  name: 'field-bindings',
  priority: kits.length + 1,
  includeDependenciesRecursively: false,
  test: /node_modules\/svelte\/src\/internal\/client\/dom\/elements\/(bindings\/(input|select|window|media|document|navigator)|customizable-select)/,
}

/** What reads and writes what is kept on the device, in one file; what it stands on has other uses. */
const keptKit = {
  name: 'kept-kit',
  priority: kits.length + 2,
  includeDependenciesRecursively: false,
  test: /src\/state\/(in-turn|keep-for-good|kept-list|kept-text|schema-words)\.ts/,
}

export const codeSplitting = { groups: [keptKit, fieldBindings, ...kits] }

/** For what is done to the code of pages alone. */
export const isClient = { applyToEnvironment: ({ name }) => name === 'client' }

/** Where a value comes from, which who reads the file is told; no page shows it. */
const origins = ['note', 'source', 'entry']

/** Keeps out what pages would load for nothing. */
export const leanCode = {
  name: 'lean-code',
  enforce: 'pre',
  ...isClient,
  configEnvironment: (name) => (name === 'client' ? { build: { modulePreload: false } } : undefined),
  // A group that leaves out what it stands on may ask an entry for more than the entry is for.
  options: (options) => ({ ...options, preserveEntrySignatures: 'allow-extension' }),
  // All styles of the site are one file, and no list of files is fetched ahead: of Vite's way to import nothing is left but the import.
  load: (id) => (id === '\0vite/preload-helper.js' ? 'export const __vitePreload = (load) => load()' : undefined),
  transform(code, id) {
    // Svelte's package does not say that its modules do nothing on being imported; a file of nothing else would be fetched for that.
    if (id.includes('/svelte/src/internal/client/')) return { code, map: null, moduleSideEffects: false }
    if (/\/content\/halls\/[^/]+\.json$/.test(id))
      return {
        code: JSON.stringify(JSON.parse(code, (key, value) => (origins.includes(key) ? undefined : value))),
        map: null,
      }
    return undefined
  },
}
