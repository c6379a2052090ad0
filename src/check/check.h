/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What can be judged before any maths: names that meet, keys that contradict, numbers that
 * look misread. Called by run.c after everything is read.
 */
#ifndef STRANDWISE_CHECK_H
#define STRANDWISE_CHECK_H

#include "read/chart/chart.h"
#include "read/project/project.h"

/* charts[i] belongs to project->parts[i]: NULL for plain parts and unreadable charts.
 * Reports faults and cautions, file order being the printer's business. */
void check_project(struct work *work, const struct project *project,
                   const struct chart *const *charts);

#endif
