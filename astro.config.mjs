import { readFileSync, writeFileSync } from 'node:fs'
import { unified } from '@astrojs/markdown-remark'
import mdx from '@astrojs/mdx'
import sitemap from '@astrojs/sitemap'
import svelte from '@astrojs/svelte'
import { defineConfig } from 'astro/config'
import rehypeKatex from 'rehype-katex'
import remarkMath from 'remark-math'
import { minifySync } from 'vite'
import { buildLanguages, workFolders } from './src/tools/build-languages.mjs'
import { codeSplitting, leanCode } from './src/tools/code-kits.mjs'
import { compileHints } from './src/tools/compile-hints.mjs'
import { remarkDoLines } from './src/tools/do-lines.mjs'
import { forHosts } from './src/tools/for-hosts.mjs'
import { rehypeGluedTerms } from './src/tools/glued-terms.mjs'
import { keptAnswers } from './src/tools/kept-answers.mjs'
import { addressIn, languageIn, otherLanguages } from './src/tools/languages.mjs'
import { messagesPlugin, writeMessages } from './src/tools/messages.mjs'
import { offline } from './src/tools/offline.mjs'
import { oneStyleSheet } from './src/tools/one-style-sheet.mjs'
import { searchIndex } from './src/tools/search-index.mjs'
import { writeFonts } from './src/tools/site-fonts.mjs'
import { inPseudo, language, languagePlugins, remarkWords } from './src/tools/site-language.mjs'

/** The browser tests build with one page more, from which they reach the sound and the engine without a widget. */
const testHarness = {
  name: 'test-harness',
  hooks: {
    'astro:config:setup': ({ injectRoute }) => {
      injectRoute({ pattern: '/harness/sound', entrypoint: './tests/browser/harness/sound.astro' })
    },
  },
}
/** `client:near` in pages: see src/layouts/client-near.ts. */
const wakesNear = {
  name: 'wakes-near',
  hooks: {
    'astro:config:setup': ({ addClientDirective }) => {
      addClientDirective({ name: 'near', entrypoint: './src/layouts/client-near.ts' })
    },
  },
}
/** The scripts that run before everything else are sent without their comments. */
const smallScripts = {
  name: 'small-scripts',
  hooks: {
    'astro:build:done': ({ dir }) => {
      for (const name of ['early.js', 'lesson.js', 'newer-version.js', 'offline.js', 'switches.js', 'waking.js']) {
        const file = new URL(name, dir)
        writeFileSync(file, minifySync(name, readFileSync(file, 'utf8')).code)
      }
    },
  },
}
const forTests = process.env.SITE_FOR_TESTS === '1'
/** Where the site will stand, as https://…; link previews need it, and are left out without. The tests' one is nobody's (RFC 2606). */
const site = process.env.SITE_ADDRESS || (forTests ? 'https://round-the-back.example' : undefined)
/** What stands in another site's frame, and what only the tests or who was sent it open, is not offered to search engines. */
const forSearchEngines = () => {
  const languages = otherLanguages().map(languageIn)
  const codes = ['en', ...languages.map(({ code }) => code)]
  return sitemap({
    filter: (page) => !/\/(embed|harness|404|compare\/sent)\//.test(page),
    customPages: languages.flatMap((each) => each.addresses.map((address) => site + addressIn(each, address))),
    i18n: { defaultLocale: 'en', locales: Object.fromEntries(codes.map((code) => [code, code])) },
  })
}
const siteFolder = inPseudo ? './tests/results/site-pseudo' : forTests ? './tests/results/site' : './dist'
/** What is kept from build to build is in one language. */
const folders = inPseudo
  ? { outDir: siteFolder, cacheDir: './tests/results/cache-pseudo' }
  : language
    ? workFolders(siteFolder, language.code)
    : { outDir: siteFolder }

// Types are checked before Vite starts; they need the messages too.
writeMessages()
await writeFonts()

export default defineConfig({
  ...(site ? { site } : {}),
  ...folders,
  publicDir: './src/static',
  trailingSlash: 'always',
  devToolbar: { enabled: false },
  integrations: [
    svelte(),
    mdx(),
    // Before the builds in other languages, which take over what this one computed.
    keptAnswers(),
    smallScripts,
    wakesNear,
    oneStyleSheet,
    searchIndex,
    ...(site && !language ? [forSearchEngines()] : []),
    ...(forTests ? [testHarness] : []),
    // Not in a language that is laid beside this one: what follows goes by all files that there are.
    ...(inPseudo || language ? [] : [buildLanguages]),
    ...(language ? [] : [offline]),
    // Last. The pseudo-language is looked at from its files.
    ...(inPseudo || language ? [] : [forHosts(forTests ? 5 : 11)]),
  ],
  markdown: {
    // Formulas become HTML and MathML here, at build time; no KaTeX script reaches the browser.
    processor: unified({
      remarkPlugins: [remarkMath, ...remarkWords, remarkDoLines],
      rehypePlugins: [[rehypeKatex, { strict: 'error', throwOnError: true }], rehypeGluedTerms],
    }),
  },
  build: { inlineStylesheets: 'never' },
  vite: {
    // The oldest browsers whose style sheets are written for; what they know by a prefixed name only gets the prefix.
    build: {
      assetsInlineLimit: 0,
      // One style sheet for the whole site: fetched once, and kept.
      cssCodeSplit: false,
      cssTarget: ['safari16.4', 'ios16.4', 'firefox115', 'chrome111'],
    },
    environments: { client: { build: { rolldownOptions: { output: { codeSplitting } } } } },
    plugins: [messagesPlugin(), leanCode, compileHints, ...languagePlugins()],
    // A worker fetches a question's code when it is first asked.
    worker: { format: 'es', plugins: languagePlugins },
  },
  security: {
    csp: {
      directives: [
        "default-src 'none'",
        "img-src 'self'",
        "font-src 'self'",
        "connect-src 'self'",
        // The page for another site's frame is measured in one of ours.
        "frame-src 'self'",
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
