/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slips of a whole row, and what of the other doubts they explain.
 */
#include "base/tables.h"
#include "base/work.h"
#include "proofread_parts.h"

/* All rows of one side are moved where one is missing or too many. */
static bool is_of_slip(const struct proof_chart *chart, int row)
{
    for (int i = 0; i < chart->nslips; i++)
        if (chart->slips[i].nrows != chart->field.grid->nrows ||
            row_slip_concerns(&chart->slips[i], &chart->field, row))
            return true;
    return false;
}

void proofread_rows(struct work *work, struct proof_chart *chart)
{
    struct row_slip_rule rule = {
        .breaks = (int)tables_value(work->tables, "proof_row_breaks"),
        .agreeing = (int)tables_value(work->tables, "proof_row_stitches"),
        .rows = (int)tables_value(work->tables, "proof_row_rows"),
        .rows_counted = (int)tables_value(work->tables, "proof_row_rows_counted"),
        .whole = (int)tables_value(work->tables, "proof_whole_times"),
    };
    bool explained = true;

    chart->nslips = row_slips(work, &chart->field, &rule, chart->slips);
    if (chart->nslips == 0)
        return;
    for (int i = 0; i < chart->nfaults; i++)
        explained = explained && is_of_slip(chart, chart->faults[i].row);
    if (explained)
        chart->nfaults = 0;
    chart->nholes = 0;
    chart->nstrays = 0;
}
