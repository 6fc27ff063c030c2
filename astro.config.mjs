import { unified } from '@astrojs/markdown-remark'
import mdx from '@astrojs/mdx'
import svelte from '@astrojs/svelte'
import { defineConfig } from 'astro/config'
import rehypeKatex from 'rehype-katex'
import remarkMath from 'remark-math'

export default defineConfig({
  publicDir: './src/static',
  trailingSlash: 'always',
  devToolbar: { enabled: false },
  integrations: [svelte(), mdx()],
  markdown: {
    // Formulas become HTML and MathML here, at build time; no KaTeX script reaches the browser.
    processor: unified({ remarkPlugins: [remarkMath], rehypePlugins: [[rehypeKatex, { strict: 'error', throwOnError: true }]] }),
  },
  build: { inlineStylesheets: 'never' },
  vite: { build: { assetsInlineLimit: 0 } },
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
