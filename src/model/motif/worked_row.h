/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A row as worked whose stitches are changed one by one: each tells how many catches it saves, since only the
 * float it cuts, and the one that its old yarn then has behind it, are other than before. Pure.
 */
#ifndef STRANDWISE_WORKED_ROW_H
#define STRANDWISE_WORKED_ROW_H

#include <stdbool.h>
#include <stdint.h>

#include "model/catches/floats.h"

struct worked_row {
    enum float_ends ends;         /* in a ring the last stitch is beside the first */
    int leave_sts;
    uint8_t *yarn_of, *backwards; /* [n], the same from the other end */
    int n, each;                  /* stitches of it, and of one repeat */
    uint64_t yarns;               /* in it, a bit each */
    uint64_t *taken;              /* by place: yarns whose float there has been chosen, a bit each; or NULL */
};

/* What a yarn passes behind on the two sides of a place. */
struct worked_way {
    int below, above;
    bool met_below, met_above; /* a stitch of it; else the end, or in a ring itself */
    int span_sts;              /* of its float behind a stitch of another yarn there; 0: none */
};
struct worked_way worked_way(const struct worked_row *row, int place, uint8_t yarn);

/* Puts a stitch into another yarn. Returned: fewest catches saved; *reach: at least as far as any float that is
 * other than before. Put back in its old yarn all is as it was. */
int64_t worked_put(struct worked_row *row, int place, uint8_t yarn, int *reach);

#endif
