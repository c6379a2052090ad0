/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Plans made by hand, for tests of what reads a plan: nothing here calls the model.
 */
#ifndef STRANDWISE_FIXTURE_PLAN_H
#define STRANDWISE_FIXTURE_PLAN_H

#include "base/work.h"
#include "plan/plan.h"

enum { FIXTURE_CREAM, FIXTURE_SLATE, FIXTURE_CORAL, FIXTURE_YARNS };

/* An arena with diagnostics and the tables. */
struct work fixture_plan_work(void);

/* Rows top first, NULL at the end: '.' cream, 'x' slate, 'o' coral, '-' no stitch. */
struct grid fixture_grid(struct work *work, const char *const *rows);

/* A plan of one band, "ripple", in three yarns (coral sewn on over cream) at 8 by 9 1/2 to the
 * inch; only what rows and directions read is filled. */
struct plan *fixture_plan(struct work *work, const char *const *rows, int repeats, bool round);

/* Catches by (row, column, strand), from 1, in order; behind is not filled. */
struct fixture_catch {
    int row, column, strand;
};
const struct catch_map *fixture_catches(struct work *work, const struct fixture_catch *catches,
                                        int count);

/* The sock top of the worked examples: 7 repeats of 12 by 14, 72 to 84 to 72 stitches, catches at
 * an inch. All figures by hand; yarn, gauge and wearer are invented. */
extern const char *const fixture_ripple_rows[];
struct plan *fixture_ripple(struct work *work);

#endif
