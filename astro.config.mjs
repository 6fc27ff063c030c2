import { readFileSync, writeFileSync } from 'node:fs'
import { unified } from '@astrojs/markdown-remark'
import mdx from '@astrojs/mdx'
import svelte from '@astrojs/svelte'
import { defineConfig } from 'astro/config'
import rehypeKatex from 'rehype-katex'
import remarkMath from 'remark-math'
import { minifySync } from 'vite'
import { messagesPlugin, moduleOf, writeMessages } from './src/tools/messages.mjs'
import { inPseudo, pseudoPlugin, remarkPseudo } from './src/tools/pseudo-language.mjs'

/** The browser tests build with one page more, from which they reach the sound and the engine without a widget. */
const testHarness = {
  name: 'test-harness',
  hooks: {
    'astro:config:setup': ({ injectRoute }) => {
      injectRoute({ pattern: '/harness/sound', entrypoint: './tests/browser/harness/sound.astro' })
    },
  },
}
/** What every page needs, and what that stands on. */
const siteKit = { name: 'site-kit', priority: 2, test: /preload-helper|src\/state\/(preferences|site-air)/ }
/** The parts that nearly every figure is made of, and what they stand on. */
const figureKit = {
  name: 'figure-kit',
  priority: 1,
  test: /node_modules\/svelte\/(?!src\/internal\/client\/dom\/elements\/bindings\/(input|select))|src\/(widgets\/figure\/(?!Guess|ChangeGroup)|charts\/(Chart|chart-|Axis(Foot|Value|Level|Frequency)|Curve|Drag|drag-|TableTwin|Direct|Later|PlanHandle)|state\/saved-rigs-change)/,
}
/** What stands in folds: fields, sliders and what binds them. A page that folds them all fetches it with the first fold. */
const controlKit = {
  name: 'control-kit',
  priority: 0,
  test: /node_modules\/svelte\/src\/internal\/client\/dom\/elements\/bindings\/(input|select)|src\/widgets\/(controls\/(?!Typed|typed|NumberField|FileButton)|figure\/ChangeGroup)/,
}
/** What every figure that can be heard has before the first press. */
const hearKit = {
  name: 'hear-kit',
  priority: 1,
  test: /src\/(sound\/(load-sound|sound-limits)|widgets\/(listen\/Listen|player\/(page-sound|bar-at-hand|PlaceSwitch|switch)))/,
}
/** The scripts that run before everything else are sent without their comments. */
const smallScripts = {
  name: 'small-scripts',
  hooks: {
    'astro:build:done': ({ dir }) => {
      for (const name of ['early.js', 'lesson.js', 'switches.js', 'waking.js']) {
        const file = new URL(name, dir)
        writeFileSync(file, minifySync(name, readFileSync(file, 'utf8')).code)
      }
    },
  },
}
const forTests = process.env.SITE_FOR_TESTS === '1'

// Types are checked before Vite starts; they need the messages too.
writeMessages()

export default defineConfig({
  outDir: inPseudo ? './tests/results/site-pseudo' : forTests ? './tests/results/site' : './dist',
  // What is kept from build to build is in one language.
  ...(inPseudo ? { cacheDir: './tests/results/cache-pseudo' } : {}),
  publicDir: './src/static',
  trailingSlash: 'always',
  devToolbar: { enabled: false },
  integrations: [svelte(), mdx(), smallScripts, ...(forTests ? [testHarness] : [])],
  markdown: {
    // Formulas become HTML and MathML here, at build time; no KaTeX script reaches the browser.
    processor: unified({
      remarkPlugins: [remarkMath, ...(inPseudo ? [remarkPseudo] : [])],
      rehypePlugins: [[rehypeKatex, { strict: 'error', throwOnError: true }]],
    }),
  },
  build: { inlineStylesheets: 'never' },
  vite: {
    // The oldest browsers whose style sheets are written for; what they know by a prefixed name only gets the prefix.
    build: {
      assetsInlineLimit: 0,
      cssTarget: ['safari16.4', 'ios16.4', 'firefox115', 'chrome111'],
    },
    // Dozens of small files compress worse than two, and are asked for one by one.
    environments: {
      client: {
        build: {
          rolldownOptions: { output: { codeSplitting: { groups: [siteKit, controlKit, figureKit, hearKit] } } },
        },
      },
    },
    plugins: [messagesPlugin(), ...(inPseudo ? [pseudoPlugin({ messagesOf: moduleOf })] : [])],
    // A worker fetches a question's code when it is first asked.
    worker: { format: 'es' },
  },
  security: {
    csp: {
      directives: [
        "default-src 'none'",
        "img-src 'self'",
        "font-src 'self'",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
      ],
      // KaTeX sets heights and struts in style attributes; nothing else on the site uses them.
      styleDirective: { resources: ["'self'", { resource: "'unsafe-inline'", kind: 'attribute' }] },
    },
  },
})
