/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by check*.c alone: the groups of what check_project() looks at.
 */
#ifndef STRANDWISE_CHECK_PARTS_H
#define STRANDWISE_CHECK_PARTS_H

#include "base/diag.h"
#include "check.h"

/* check_yarns.c: yarns that are named, what lies under what, marks. */
void check_yarns(struct work *work, const struct project *project);
/* Yarns and charts: yarns nothing uses, marks a picture did without, side stitches. */
void check_charts(struct work *work, const struct project *project,
                  const struct chart *const *charts);
/* Weighings on the way. */
void check_weighed(struct work *work, const struct project *project);
/* check_gauge.c: swatches, tries, ball bands, measurements that look misread. */
void check_gauge(struct work *work, const struct project *project);
/* A weight is so many steps of the scale. */
void check_on_scale(struct work *work, const struct given_grams *scale, struct rational mass_g,
                    struct place at);

#endif
