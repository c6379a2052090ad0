/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The marks of a map of close catches, for the map and for its legend. Used by draw_dents*.c alone.
 */
#ifndef STRANDWISE_DRAW_DENTS_PARTS_H
#define STRANDWISE_DRAW_DENTS_PARTS_H

#include "parts.h"

/* Catches from which a stitch has the how-many-th grey, from 0; and that grey. */
int64_t dents_shown_step(const struct plan_crowding *crowding, int step);
struct sheet_shade dents_crowded_shade(int step);

/* Is there a place to be ringed as the most crowded? */
bool dents_has_closest(const struct drawing *drawing);
struct sheet_item *dents_closest_path(struct sheet *sheet);
void dents_add_ring(struct sheet *sheet, struct sheet_item *path, double x, double y,
                    double radius);

/* What joins two catches, dots for them (hollow at an edge), in a stitch of that size. */
struct sheet_item *dents_kind_path(struct sheet *sheet, enum dent_kind kind, double size);
struct sheet_item *dents_dot_path(struct sheet *sheet, bool edge, double size);
void dents_add_dot(struct sheet *sheet, struct sheet_item *path, double x, double y);
void dents_add_line(struct sheet *sheet, struct sheet_item *path, double x1, double y1, double x2,
                    double y2);

struct sheet_item *dents_bars_path(struct sheet *sheet, struct sheet_shade shade,
                                   const char *label);

#endif
