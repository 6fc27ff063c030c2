/// <reference types="astro/client" />

// Checkers that do not read .astro files take any of them for a component.
declare module '*.astro' {
  const component: import('astro/runtime/server/index.js').AstroComponentFactory
  export default component
}

// Made by src/tools/site-language.mjs.
declare module 'virtual:site-languages' {
  /** The code of the language that the site is being built in. */
  export const siteLanguage: string
  /** All languages with their own names; addresses as in English of the pages that each has, null for all. */
  export const siteLanguages: readonly { code: string; name: string; addresses: readonly string[] | null }[]
}

declare namespace Astro {
  interface ClientDirectives {
    /** Wakes a figure when it comes near the window: src/layouts/client-near.ts. */
    'client:near'?: boolean
  }
}
