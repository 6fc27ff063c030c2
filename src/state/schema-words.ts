import type { BaseIssue } from 'valibot'
import {
  empty,
  missing,
  notA,
  notFinite,
  notOneOf,
  notWhole,
  numbered,
  otherForm,
  placed,
  tooLarge,
  tooLong,
  tooSmall,
  unknown,
} from './schema.messages.ts'
import { shortened } from './shortened.ts'

type Issue = BaseIssue<unknown>

/** What is wrong with a value of a file, in words: 'cabinet 1, way 2, radiusM: is "wide"; allowed is a number'. */
export function issueWords(issue: Issue): string {
  const place = placeWords(issue)
  return place === '' || issue.type === 'raw_check' ? faultWords(issue) : placed({ place, fault: faultWords(issue) })
}

/** What is wrong, without where. */
export function faultWords(issue: Issue): string {
  const { type, expected, message } = issue
  const received = shortened(issue.received)
  // An object that lacks a key, or has one too many, says so at the place of that key.
  if (received === 'undefined') return missing()
  if (expected === 'never') return unknown()
  switch (type) {
    case 'picklist':
    case 'literal':
    case 'variant':
      return notOneOf({ value: received, allowed: (expected ?? '').replaceAll(/[()]/g, '').replaceAll(' | ', ', ') })
    case 'number':
    case 'string':
    case 'boolean':
    case 'array':
      return notA({ value: received, kind: type })
    case 'object':
    case 'record':
    case 'strict_object':
      return notA({ value: received, kind: 'object' })
    case 'finite':
      return notFinite({ value: received })
    case 'integer':
      return notWhole({ value: received })
    case 'min_value':
      return tooSmall({ value: received, least: String(issue.requirement) })
    case 'max_value':
      return tooLarge({ value: received, most: String(issue.requirement) })
    case 'min_length':
      return empty()
    case 'max_length':
      return tooLong({ letters: String(issue.requirement) })
    default:
      // What a check of ours says; the library's own words are for those who write schemas.
      return message.startsWith('Invalid ') ? otherForm({ value: received }) : message
  }
}

/** The way to the value: keys, and the places of lists counted from 1. */
function placeWords({ path }: Issue): string {
  const keys = (path ?? []).map(({ key }) => key)
  return keys
    .flatMap((key, index) => {
      if (typeof key === 'number') return []
      const inList = keys[index + 1]
      return [
        typeof inList === 'number'
          ? numbered({ list: shortened(String(key)), number: String(inList + 1) })
          : shortened(String(key)),
      ]
    })
    .join(', ')
}
