/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The tables of the plan as JSON, by the files they stand in.
 */
#ifndef STRANDWISE_JSON_TABLES_H
#define STRANDWISE_JSON_TABLES_H

#include "plan/plan.h"
#include "table.h"

/* gauge.c */
extern const struct json_table gauge_table, loop_table, float_limit_table, cast_on_table, bind_off_table,
    step_table;
/* bands.c */
extern const struct json_table band_table, band_short_table;
/* wear.c */
extern const struct json_table centre_table, steek_edges_table, stretch_table, border_table, together_table;
/* yarn.c */
extern const struct json_table yarn_table, yarn_short_table, duplicate_table, exchanged_table, swatch_table,
    swatch_ripped_table, change_table, odd_ball_table;
/* weighed.c */
extern const struct json_table weighing_table, weigh_by_table, weighed_table;

/* By plan_gauge.round and the like; by loop_method. */
enum { METHOD_WORDS = LOOP_FROM_GAUGE + 1 };
extern const char *const worked_words[2], *const method_words[METHOD_WORDS];

#endif
