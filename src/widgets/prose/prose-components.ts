import Answer from './Answer.astro'
import Deeper from './Deeper.astro'
import Fact from './Fact.astro'
import Given from './Given.astro'
import Length from './Length.astro'
import Note from './Note.astro'
import Source from './Source.astro'
import Term from './Term.astro'
import TryThis from './TryThis.astro'

/** What a lesson or an answer may use in its prose without importing it. */
export const proseComponents = { Answer, Deeper, Fact, Given, Length, Note, Source, Term, TryThis }
