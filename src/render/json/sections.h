/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The parts of the JSON plan, each one member of the object that is open. Names, units and
 * meanings: docs/plan.schema.json. Called by render/json.c alone.
 */
#ifndef STRANDWISE_JSON_SECTIONS_H
#define STRANDWISE_JSON_SECTIONS_H

#include "emit.h"
#include "plan/plan.h"

struct work;

/* The name of a yarn as she typed it; NULL (null in JSON) for -1. */
const char *json_yarn_name(const struct plan_piece *piece, int yarn);

/* "bands": [...], everything of each band. */
void json_bands(struct work *work, struct json *json, const struct plan_piece *piece);
/* "bands": [...], the figures that change with the gauge, one band a line. */
void json_bands_short(struct json *json, const struct plan_piece *piece);

/* "steek_edges": {...} or null: do they mirror each other (json/centre.c). */
void json_fronts(struct json *json, const struct plan_band *band);
/* "centre": {...} or null: mirror lines, starts of the round, needles (json/centre.c). */
void json_centre(struct json *json, const struct plan_piece *piece, const struct plan_band *band);
/* "stretch": {...} or null: will the band go over heel, head or hand (json/wear.c). */
void json_stretch(struct json *json, const struct plan_piece *piece, const struct plan_band *band);

/* "borders": [...], where plain meets stranded (json/wear.c). */
void json_borders(struct json *json, const struct plan_piece *piece);

/* "yarn": [...], with where the metres go; and the short form, one yarn a line. */
void json_yarns(struct json *json, const struct plan_piece *piece);
void json_yarns_short(struct json *json, const struct plan_yarn *yarns, int nyarns);

/* "duplicate": [...], "duplicate_yarns": [...] and "exchanged": {...}: what else could be done with the colours. */
void json_duplicates(struct json *json, const struct plan *plan);
void json_exchanged(struct json *json, const struct plan *plan);

/* "swatches": [...], "swatch_ripped": [...] (json/swatch.c). */
void json_swatches(struct json *json, const struct plan *plan);
/* "together": {...}: the counts of all bands solved at once, or null (json/together.c). */
void json_together(struct json *json, const struct plan_piece *piece);

/* "changes": [...], "odd_balls": [...] (json/calls.c). */
void json_calls(struct json *json, const struct plan *plan);
/* One item of "weigh_in". Steps as in `steps`, from 1; 0: before the first; one more than there are:
 * all sewn. (json/weigh_in.c) */
void json_weighing(struct json *json, const struct plan_piece *piece,
                   const struct plan_weighing *weighing);
/* "weigh_in": [...], "weigh_by": [...] (json/weigh_in.c). */
void json_weigh_in(struct json *json, const struct plan *plan);

/* "weighed": {...}, where anything was weighed on the way (json/weighed.c). */
void json_weighed(struct json *json, const struct plan *plan);
/* "sizes": [...] (json/ladder.c). */
void json_sizes(struct json *json, const struct plan *plan);
/* "ladder": {...} or null (json/ladder.c). */
void json_ladder(struct json *json, const struct plan *plan);
/* A gauge tried, one item of an array or a member (json.c). */
void json_try(struct json *json, const char *key, const struct plan_try *try_at);
/* "stitch_changes" of a band (json/recolour.c). */
void json_recolours(struct json *json, const struct plan_piece *piece, const struct plan_band *band);

/* "steps": [...], from cast-on to bind-off. */
void json_steps(struct json *json, const struct plan_piece *piece);

const char *json_method_word(enum loop_method method); /* how yarn in a stitch was found */

#endif
