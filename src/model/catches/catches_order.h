/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The catches placed, put in the order they are handed on: by row, column, strand.
 */
#ifndef STRANDWISE_CATCHES_ORDER_H
#define STRANDWISE_CATCHES_ORDER_H

#include <stdint.h>

#include "catches.h"

struct arena;

enum { CATCH_NO_COLUMN = -1 }; /* a place kept for a catch that is not made */

/* Given: the marks of row r at row_start[r] up to row_start[r + 1], some without a column.
 * Returned: how many have one; they now stand in order from mark[0] on. */
int64_t catches_put_in_order(struct arena *arena, struct catch_mark *mark,
                             const int64_t *row_start, int nrows, int ncols);

#endif
