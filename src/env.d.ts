/// <reference types="astro/client" />

// Checkers that do not read .astro files take any of them for a component.
declare module '*.astro' {
  const component: import('astro/runtime/server/index.js').AstroComponentFactory
  export default component
}
