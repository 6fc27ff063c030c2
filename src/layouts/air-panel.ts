import { onPreferencesChange, preferences, setPreferences } from '../state/preferences.ts'
import { isSiteAir, roundedAir, type SiteAir, usualAir } from '../state/site-air.ts'
import {
  airText,
  allowedAir,
  inTemperatureUnit,
  readHumidityPct,
  readTemperatureC,
  temperatureText,
  temperatureUnit,
} from '../words/air.ts'
import * as say from './air-panel.messages.ts'

type Part = keyof SiteAir

/** Brings the button that tells the air of the site, and the panel that sets it, to life; opened at once on request. */
export function startAirPanel(button: HTMLButtonElement, panel: HTMLFormElement, isOpen: boolean): void {
  const find = <E extends Element>(selector: string) => panel.querySelector(selector) as E
  const parts: Part[] = ['temperatureC', 'humidityPct']
  const field = (part: Part) => find<HTMLInputElement>(`[name=${part}]`)
  const error = (part: Part) => find<HTMLElement>(`[data-error=${part}]`)
  let shownUnits = preferences().units

  const open = (isShown: boolean) => {
    panel.hidden = !isShown
    button.setAttribute('aria-expanded', String(isShown))
    if (isShown) field('temperatureC').focus()
  }
  const tell = (part: Part, problem: string) => {
    error(part).textContent = problem
    field(part).setAttribute('aria-invalid', String(problem !== ''))
  }
  const inField = (part: Part) => {
    const { units, [part]: value } = preferences()
    return String(part === 'temperatureC' ? inTemperatureUnit(value, units) : value).replace('-', '−')
  }
  /** Puts what is in force into the fields; what the reader has typed and must still mend stays, unless the unit is another one. */
  const show = () => {
    const { units, ...air } = preferences()
    button.querySelector('[data-air]')?.replaceChildren(airText(air, units))
    find('[data-unit-name]').textContent = temperatureUnit(units)
    find('[data-range=temperatureC]').textContent = allowedAir('temperatureC', units)
    find<HTMLButtonElement>('[data-reset]').textContent = say.usual({ air: airText(usualAir, units) })
    for (const part of parts) {
      if (units === shownUnits && error(part).textContent) continue
      tell(part, '')
      field(part).value = inField(part)
    }
    shownUnits = units
  }
  const valueIn = (part: Part, text: string) =>
    roundedAir(part === 'temperatureC' ? readTemperatureC(text, preferences().units) : readHumidityPct(text))
  const take = (part: Part) => {
    const { units } = preferences()
    const value = valueIn(part, field(part).value)
    if (!isSiteAir(part, value)) {
      return tell(part, say.refused({ allowed: allowedAir(part, units), still: still(part) }))
    }
    tell(part, '')
    setPreferences({ [part]: value })
  }

  button.addEventListener('click', () => open(Boolean(panel.hidden)))
  panel.addEventListener('submit', (event) => event.preventDefault())
  panel.addEventListener('keydown', (event) => {
    if (event.key !== 'Escape') return
    // It closes the panel and does nothing else.
    event.preventDefault()
    open(false)
    button.focus()
  })
  for (const part of parts) {
    field(part).addEventListener('change', () => take(part))
    field(part).addEventListener('keydown', (event) => {
      const steps = { ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key]
      if (steps === undefined) return
      event.preventDefault()
      const { units, [part]: value } = preferences()
      const next = (part === 'temperatureC' ? inTemperatureUnit(value, units) : value) + steps
      if (isSiteAir(part, valueIn(part, String(next)))) setPreferences({ [part]: valueIn(part, String(next)) })
    })
  }
  find('[data-reset]').addEventListener('click', () => {
    for (const part of parts) tell(part, '')
    setPreferences(usualAir)
  })
  onPreferencesChange(show)
  show()
  if (isOpen) open(true)
}

function still(part: Part): string {
  const { units, temperatureC, humidityPct } = preferences()
  return part === 'humidityPct' ? `${humidityPct} %` : temperatureText(temperatureC, units)
}
