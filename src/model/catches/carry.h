/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A yarn that waits: carried up behind the work, or cut and joined again. Pure.
 */
#ifndef STRANDWISE_CARRY_H
#define STRANDWISE_CARRY_H

#include <stdbool.h>
#include <stdint.h>

/* The piece upwards as stretches of rows alike in which yarns they use. */
struct carry_stretch {
    int64_t rows;       /* 0: used without a row of its own (cast-on, bind-off) */
    uint64_t yarns;     /* bit i: yarn i is used */
    double row_height_mm;
    bool unknown;       /* a part counted otherwise (heel, thumb): nothing waits across it */
};

struct carry_tally {
    int64_t waits;        /* stretches carried up */
    int64_t carried_rows;
    double carried_mm;    /* rows waited x height x ratio */
    int64_t longest_wait_rows; /* of those carried */
    int64_t cuts;         /* stretches too long: cut, join again */
    int64_t ends;         /* tails to weave in: two for the first start and last end, two a cut */
};

/* For one yarn. limit_mm: the longest wait carried, itself included. ratio: strand for height
 * (1.2). tally is filled afresh. A yarn used in a part counted otherwise does not wait there;
 * one that is not used in it is cut. Before its first use and after its last it does not wait. */
void carry_tally_yarn(const struct carry_stretch *stretches, int nstretches, int yarn,
                      double limit_mm, double ratio, struct carry_tally *tally);

#endif
