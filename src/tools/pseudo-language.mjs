// A language that nobody speaks: English with every letter accented, between brackets. A build in it shows which words of the site
// have not gone through a message or through content, because they alone still read as plain English. Plain JavaScript.

const plain = 'abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ'
const accented = [...'àƀçďéƒĝĥîĵķļɱñôþɋŕšţûṽŵẋýžÀßÇĎÉƑĜĤÎĴĶĻṀÑÔÞɊŔŠŢÛṼŴẊÝŽ']
const letters = new Map([...plain].map((letter, index) => [letter, accented[index] ?? letter]))

/** A piece of text in the pseudo-language; blanks at its ends stay where they are, text without letters stays as it is. */
export function pseudo(text) {
  const [, before = '', words = '', after = ''] = /^(\s*)(.*?)(\s*)$/s.exec(text) ?? []
  if (!/[a-zA-Z]/.test(words)) return text
  return `${before}⟦${[...words].map((letter) => letters.get(letter) ?? letter).join('')}⟧${after}`
}

/** Attributes that hold words, in what authors write into MDX. */
const wordsOfMarkup = ['title', 'label', 'caption', 'alt', 'aria-label']

/** For remark: the body of a page of content in the pseudo-language. Code and formulas stay. */
export function remarkPseudo() {
  return (tree) => {
    const visit = (node) => {
      if (node.type === 'text') node.value = pseudo(node.value)
      if (typeof node.alt === 'string') node.alt = pseudo(node.alt)
      for (const attribute of node.attributes ?? []) {
        if (typeof attribute.value === 'string' && wordsOfMarkup.includes(attribute.name))
          attribute.value = pseudo(attribute.value)
      }
      for (const child of node.children ?? []) visit(child)
    }
    visit(tree)
  }
}
