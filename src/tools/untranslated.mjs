// npm run untranslated: of every language of content/languages, what does not fit English, and what it does not say yet.
import { languageIn, otherLanguages } from './languages.mjs'
import { missingIn } from './needed-translations.mjs'
import { translationFaults } from './translation-faults.mjs'

for (const code of otherLanguages()) {
  const language = languageIn(code)
  const faults = translationFaults(language)
  const missing = missingIn(language)
  const needed = missing.filter((part) => part.needed)
  console.log(`\n${code}: ${faults.length} faults`)
  for (const fault of faults) console.log(`  ${fault}`)
  console.log(`${code}: still to be translated so that its pages are whole`)
  for (const { part, missing: names } of needed) console.log(`  ${part}: ${names.join(', ')}`)
  if (needed.length === 0) console.log('  nothing')
  console.log(`${code}: left in English, of how many`)
  for (const { part, all, missing: names } of missing.filter((each) => !each.needed))
    console.log(`  ${part}: ${names.length} of ${all}`)
  if (faults.length + needed.length > 0) process.exitCode = 1
}
