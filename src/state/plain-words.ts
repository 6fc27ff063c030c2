/**
 * Words that somebody else wrote, fit to be shown as text in one line: without signs that control, hide, or turn the direction
 * of what follows; letters with more than four marks on them lose the rest, which would be drawn over the lines above.
 * Emoji and every script stay whole.
 *
 * @param text  anything
 * @param most  greatest length, counted as a text field counts (UTF-16); what is longer is cut
 */
export function plainWords(text: string, most: number): string {
  // Far more than is asked for is not even looked at.
  const whole = stripped(text.slice(0, 8 * most + 64))
  return whole.length <= most ? whole : stripped(whole.slice(0, most))
}

/** A flag that is spelt by tags (England's), which stays; and what goes: signs without a shape but for the two joiners, halves of a pair, private signs. */
const hidden =
  /(\u{1F3F4}[\u{E0030}-\u{E0039}\u{E0061}-\u{E007A}]{1,6}\u{E007F})|(?![\u200c\u200d])\p{Cf}|[\p{Cs}\p{Co}]|[\u{E0100}-\u{E01EF}]/gu

const stripped = (text: string): string =>
  text
    .replace(/[\p{Cc}\p{Z}]+/gu, ' ')
    .replace(hidden, '$1')
    .replace(/([\u200c\u200d])[\u200c\u200d]+/g, '$1')
    .normalize('NFC')
    .replace(/(\p{M}{4})\p{M}+/gu, '$1')
    .replace(/ {2,}/g, ' ')
    .replace(/^[ \u200c\u200d]+|[ \u200c\u200d]+$/g, '')
