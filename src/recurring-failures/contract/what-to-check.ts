import { z } from 'zod'
import { SEVERITIES } from '../../core/vocabulary.ts'
import { Day, Id, MinorMoney, Name } from '../../platform/contract.ts'

const Minutes = z.number().nonnegative().max(100_000)

/** Which check first, by what the shop has found before: `season_month` (1 to 12) weighs that month and its neighbours. */
export const SymptomToCheck = z
  .strictObject({
    symptom: Name.meta({ title: 'Symptom' }),
    family: Name.meta({ title: 'Family' }),
    season_month: z.int().min(1).max(12).optional().meta({ title: 'Month' }),
    found_fine: z
      .array(Name)
      .max(200)
      .optional()
      .meta({ title: 'Found fine', description: 'Components that are ruled out: the others share their chance.' }),
    open_step_ids: z
      .array(Id)
      .max(200)
      .optional()
      .meta({ title: 'Open already', description: 'Strip-down steps that are open: they take no time.' }),
  })
  .meta({ id: 'SymptomToCheck' })
export type SymptomToCheck = z.infer<typeof SymptomToCheck>

/** Which check first, by chances and times of your own. */
export const ChecksToOrder = z
  .strictObject({
    checks: z
      .array(
        z.strictObject({
          id: Id,
          chance: z.number().min(0).max(1),
          minutes: Minutes,
          behind: Id.optional().meta({ description: 'The step that must be open for it.' }),
          makes_safe: z.boolean().optional(),
          not_before: z.array(Id).max(100).optional(),
        }),
      )
      .max(100),
    steps: z.array(z.strictObject({ id: Id, minutes: Minutes, needs: z.array(Id).max(100) })).max(100),
  })
  .meta({ id: 'ChecksToOrder' })
export type ChecksToOrder = z.infer<typeof ChecksToOrder>

export const FirstChecksInput = z.union([SymptomToCheck, ChecksToOrder]).meta({ id: 'FirstChecksInput' })

/**
 * By symptom, `id` is that of the component, and `n` of `of` failures found with the symptom on the family (in the season,
 * when a month was given) were it; both null for checks of your own. `is_best` false: within a known bound of the best.
 */
export const FirstChecks = z
  .strictObject({
    as_of: Day,
    method: z.string(),
    order: z.array(z.string()),
    expected_minutes: z.number(),
    expected_minutes_most_likely_first: z.number(),
    is_best: z.boolean(),
    checks: z.array(
      z.strictObject({
        id: z.string(),
        chance: z.number(),
        n: z.int().nullable(),
        of: z.int().nullable(),
        minutes: z.number(),
        component: z.string().optional(),
        caution: z.string().optional(),
        makes_safe: z.boolean().optional(),
      }),
    ),
    sequence: z.array(
      z.strictObject({ kind: z.enum(['check', 'step']), id: z.string(), name: z.string(), ends_at: z.number() }),
    ),
  })
  .meta({ id: 'FirstChecks' })
export type FirstChecks = z.infer<typeof FirstChecks>

/** Operations that are to be done together on a vehicle of a family, and of a variant if one is named; names. */
export const WhileOpenInput = z
  .strictObject({ family: Name, variant: Name.optional(), operations: z.array(Name).min(1).max(50) })
  .meta({ id: 'WhileOpenInput' })
export type WhileOpenInput = z.infer<typeof WhileOpenInput>

/**
 * `asked_for`: worth it, or safety hangs on it; money never argues against that. `n_looked` are on the variant where that has
 * ten looks of its own (`counted_on`), else on the family; where they are few the chance `borrows` from all families, on which
 * `n_bad_all` of `n_looked_all` were bad.
 */
export const OpenLook = z
  .strictObject({
    component: z.string(),
    n_looked: z.int(),
    n_bad: z.int(),
    chance: z.number(),
    chance_lower: z.number(),
    chance_upper: z.number(),
    cost_look_minor: MinorMoney,
    cost_now_minor: MinorMoney,
    cost_later_minor: MinorMoney,
    break_even_chance: z.number().nullable(),
    net_minor: MinorMoney,
    chance_worth_it: z.number(),
    severity: z.enum(SEVERITIES),
    asked_for: z.boolean(),
    counted_on: z.enum(['variant', 'family']),
    borrows: z.boolean(),
    n_looked_all: z.int(),
    n_bad_all: z.int(),
  })
  .meta({ id: 'OpenLook' })
export type OpenLook = z.infer<typeof OpenLook>

export const WhileOpen = z
  .strictObject({
    as_of: Day,
    method: z.string(),
    hours_together: z.number(),
    hours_apart: z.number(),
    looks: z.array(OpenLook),
  })
  .meta({ id: 'WhileOpen' })
export type WhileOpen = z.infer<typeof WhileOpen>

export const SeasonQuery = z
  .strictObject({
    symptom: Name.optional().meta({ title: 'Symptom' }),
    component: Name.optional().meta({ title: 'Component' }),
    as_of: Day.optional().meta({ title: 'As known on', description: 'Left out: today.' }),
  })
  .meta({ id: 'SeasonQuery' })
export type SeasonQuery = z.infer<typeof SeasonQuery>

const Twelve = z.array(z.int()).length(12)

/** January first. `peak_month` is 1 to 12; null when the counts point nowhere. */
export const Season = z
  .strictObject({
    as_of: Day,
    method: z.string(),
    months: Twelve,
    jobs: Twelve,
    peak_month: z.int().nullable(),
    mean_direction_deg: z.number().nullable(),
    resultant_length: z.number(),
    p: z.number(),
  })
  .meta({ id: 'Season' })
export type Season = z.infer<typeof Season>
