// Words that a page shows or reads out, as it is built and while it is used.
import type { Page } from '@playwright/test'

/** What is the same in every language: signs of units and of standards. */
export const signs =
  /^(Hz|kHz|dB|dBA|Pa|ms|mm|cm|km|ft|in|kg|ka|°C|°F|IEC|ISO|DIN|EN|NIOSH|WHO|ANSI|JSON|CSV|WAV|DI|sone|phon|Bark|acum)$/

declare global {
  interface Window {
    seenWords: () => string[]
  }
}

/**
 * From now on keeps every text that the page shows or reads out with a word in it that is looked for, with where it stands.
 *
 * @param word  the words that are looked for, as a global expression; `but` are those that may stand
 */
export async function watchWords(page: Page, { word, but }: { word: RegExp; but: RegExp }) {
  await page.evaluate(
    ([wordSource, wordFlags, butSource]) => {
      const isWord = new RegExp(wordSource, wordFlags)
      const mayStand = new RegExp(butSource)
      const found = new Set<string>()
      const attributes = ['aria-label', 'aria-valuetext', 'aria-description', 'title', 'alt', 'placeholder', 'label']
      // Formulas, code, and what is marked as a name or a record that is not translated.
      const left = 'script, style, template, .katex, code, [translate=no]'
      const note = (text: string, at: Element, what: string) => {
        if (at.closest(left)) return
        const words = text.match(isWord)?.filter((word) => !mayStand.test(word)) ?? []
        if (words.length === 0) return
        const path = [at, at.parentElement, at.parentElement?.parentElement]
          .map(
            (node) =>
              node &&
              `${node.tagName.toLowerCase()}${node.className && typeof node.className === 'string' ? `.${node.className.split(' ')[0]}` : ''}`,
          )
          .reverse()
          .join('>')
        found.add(`${text.trim().slice(0, 90)} (${what}, ${path})`)
      }
      const look = (node: Node) => {
        if (node.nodeType === Node.TEXT_NODE && node.parentElement)
          note(node.textContent ?? '', node.parentElement, 'text')
        if (!(node instanceof Element)) return
        for (const name of attributes) if (node.hasAttribute(name)) note(node.getAttribute(name) ?? '', node, name)
        for (const child of node.childNodes) look(child)
      }
      look(document.body)
      note(document.title, document.body, 'title of the page')
      new MutationObserver((changes) => {
        for (const { target, addedNodes, type } of changes) {
          if (type === 'childList') for (const node of addedNodes) look(node)
          else look(target)
        }
      }).observe(document.body, {
        subtree: true,
        childList: true,
        characterData: true,
        attributes: true,
        attributeFilter: attributes,
      })
      window.seenWords = () => [...found].sort()
    },
    [word.source, word.flags, but.source] as const,
  )
}

/** What has been kept since. */
export const seenWords = (page: Page): Promise<string[]> => page.evaluate(() => window.seenWords())
