/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What must hold of any chart that was accepted, and a project whose yarns charts are read for.
 */
#ifndef STRANDWISE_FUZZ_CHART_H
#define STRANDWISE_FUZZ_CHART_H

#include "fuzz.h"
#include "read/chart/chart.h"

static const char chart_project[] = "[yarn cream]\nmark = .\nshade = #f3ead7\n"
                                    "[yarn slate]\nmark = x\nshade = #404858\n"
                                    "[yarn berry]\nmark = o\nshade = #a01040\n";

static inline void check_cells(const struct grid *grid, int nrows, int nyarns)
{
    FUZZ_HOLDS(grid->ncols == 0 || grid->nrows == nrows);
    for (int64_t i = 0; i < (int64_t)grid->nrows * grid->ncols; i++)
        FUZZ_HOLDS(grid->cell[i] < nyarns || grid->cell[i] == GRID_NO_STITCH);
}

static inline void check_chart(const struct chart *chart, const struct project *project)
{
    FUZZ_HOLDS(chart->repeat.nrows >= 1 && chart->repeat.nrows <= GRID_SIDE_MAX);
    FUZZ_HOLDS(chart->repeat.ncols >= 1 && chart->repeat.ncols <= GRID_SIDE_MAX);
    check_cells(&chart->repeat, chart->repeat.nrows, project->nyarns);
    check_cells(&chart->left, chart->repeat.nrows, project->nyarns);
    check_cells(&chart->right, chart->repeat.nrows, project->nyarns);
}

#endif
