/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Old and new chart in marks, with their side stitches: beside each other where the page has room.
 */
#ifndef STRANDWISE_REPORT_REDRAW_CHARTS_H
#define STRANDWISE_REPORT_REDRAW_CHARTS_H

struct page;
struct plan_redraw;

void redraw_add_charts(const struct page *page, const struct plan_redraw *redraw);

#endif
