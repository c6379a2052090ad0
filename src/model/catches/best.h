/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The best place for every catch of a repeat at once, and how far that is proven.
 *
 * Floats meet only their neighbours in the next rows, so the repeat falls into parts that have
 * nothing to do with each other; each is solved as a network (net.h) of its catches.
 */
#ifndef STRANDWISE_BEST_H
#define STRANDWISE_BEST_H

#include "catches.h"

/* What no placement can do better than; equal to the map's own figures where proven. */
struct best_proof {
    bool proven;             /* every part */
    int64_t parts, parts_proven;
    int64_t stacks;          /* stacked + doubled, at least */
    int64_t catches;         /* given that many stacks, at least */
    int64_t near;            /* given both, at least: pairs nearer than `stagger` */
    int64_t squares;         /* given all before, at least: squared loose pieces of the floats caught */
    int64_t placed_near, placed_squares; /* of the map */
};

/* The best map; never worse than quick (of catches_place()), which it starts from.
 * Notes: parts alike, or each other's mirror image, are placed alike, or mirrored. */
const struct catch_map *best_place(struct work *work, const struct grid *grid,
                                   const struct catch_rules *rules, const struct catch_map *quick,
                                   struct best_proof *proof);

#endif
