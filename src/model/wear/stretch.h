/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How far a stranded round pulls out. Pure; a model, which a pulled swatch beats.
 *
 * In a round the yarn that is hardest to pull decides. Of `all` stitches `own` are in it: they pull
 * to `stitch_ratio` times their width, and its floats, behind the rest, to `float_ratio` times the
 * width they pass. Ratios: 1.5 is half as far again.
 */
#ifndef STRANDWISE_STRETCH_H
#define STRANDWISE_STRETCH_H

#include <stdbool.h>
#include <stdint.h>

#include "base/grid.h"

/* own / all x stitch_ratio + (all - own) / all x float_ratio; a round in one yarn: stitch_ratio.
 * Given: 0 <= own <= all, all > 0.
 * Source: a working model of practitioners, not a measurement (docs/formulas.md).
 * Checked: test_stretch, worked examples. */
double stretch_ratio(int64_t own, int64_t all, double stitch_ratio, double float_ratio);

/* The float_ratio with which such a round pulls to `ratio`; own < all. */
double stretch_float_ratio(int64_t own, int64_t all, double stitch_ratio, double ratio);

/* The tightest of the yarns of a round. Given: count[nyarns], its stitches in each.
 * Returned: the yarn, *ratio its pull; -1 where there are not two yarns, *ratio stitch_ratio then. */
int stretch_tightest(const int64_t *count, int nyarns, double stitch_ratio, double float_ratio,
                     double *ratio);

/* The stitches of a row by yarn: count[GRID_YARNS_MAX] filled. Returned: all of them. */
int64_t stretch_count_row(const struct grid *grid, int row, int64_t *count);

/* That of the tightest row of a chart. */
double stretch_grid_ratio(const struct grid *grid, double stitch_ratio, double float_ratio);

/* To a hair's breadth of binary fractions, which is not what stops a foot. */
bool stretch_reaches(double pulls_to_in, double must_in);

/* Stitches so many that they pull to must_in: must_in x per_in / ratio. */
double stretch_stitches(double must_in, double per_in, double ratio);

#endif
