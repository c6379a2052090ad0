/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How things are said that need no plan: lengths in both units, counts, rounds or rows, lists. Every message
 * and every output says them through here.
 */
#ifndef STRANDWISE_SAY_H
#define STRANDWISE_SAY_H

#include <stdbool.h>
#include <stdint.h>

#include "base/text.h"

/* --- lengths: her unit first ---------------------------------------------------------- */

/* "10 1/2 in (26.7 cm)" or "26.7 cm (10 1/2 in)": eighths of an inch, tenths of a centimetre. */
const char *say_length(struct arena *arena, double inches, bool cm_first);
/* "0.48 in (12.2 mm)": a length too short for a ruler's eighths. */
const char *say_fine_length(struct arena *arena, double mm, bool cm_first);
/* The same number in both units, each with its own digits and unit. */
const char *say_both(struct arena *arena, bool cm_first, const char *in, const char *in_unit,
                     const char *metric, const char *metric_unit);
/* "8 stitches to the inch (31.5 to 10 cm)", that to 10 cm with so many decimals. */
const char *say_gauge(struct arena *arena, double per_in, int cm_decimals, bool cm_first);
const char *say_decimal(struct arena *arena, double value, int decimals);
const char *say_grouped(struct arena *arena, int64_t value); /* "12,345" */

/* --- counts and lists ------------------------------------------------------------------- */

/* "1 repeat", "3 repeats" */
const char *say_count(struct arena *arena, int64_t n, const char *one, const char *many);
const char *say_stitches(struct arena *arena, int64_t n);
/* What stands before item i of n: nothing, ", " or " and ". */
const char *say_link(int i, int n);
/* "cream", "cream and slate", "cream, slate and coral"; of none "". */
const char *say_list(struct arena *arena, const char *const *names, int n);

/* --- rounds or rows ----------------------------------------------------------------------- */

/* What a line of the chart is called, in the round or flat. */
struct say_rounds {
    const char *one, *many, *One, *Many; /* "round", "rounds", "Round", "Rounds" */
};
const struct say_rounds *say_rounds(bool round);
/* "1 round", "14 rows" */
const char *say_rounds_count(struct arena *arena, int64_t n, bool round);

#endif
