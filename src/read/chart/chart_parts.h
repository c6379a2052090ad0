/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the two readers of charts, chart_text.c and chart_png.c, share.
 */
#ifndef STRANDWISE_CHART_PARTS_H
#define STRANDWISE_CHART_PARTS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/grid.h"

struct arena;
struct project;

/* "1 stitch", "12 stitches". */
const char *chart_count(struct arena *arena, long count, const char *one, const char *many);

/* The bytes of a character of UTF-8, by its first: 1 to 4. */
size_t chart_char_bytes(char first);

/* false: some square of the row is a stitch. */
bool chart_row_is_empty(const struct grid *grid, int row);

#endif
