/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Text charts.
 */
#include "base/diag.h"
#include "base/source.h"
#include "fuzz_chart.h"

static void body(struct work *work, const uint8_t *data, size_t size)
{
    struct place nowhere = {0};
    const struct project *project =
        project_read_source(work, source_from_text(work, "project.ini", chart_project));
    const char *path = fuzz_file("a.chart", data, size);
    const struct source *source = source_read(work, path, SOURCE_TEXT, CHART_BYTES_MAX, nowhere);
    const struct chart *chart = source ? chart_read_text(work, project, source) : NULL;

    if (chart)
        check_chart(chart, project);
    else
        FUZZ_HOLDS(diagnostics_fatal(work->diagnostics));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fuzz_run(body, data, size);
    return 0;
}
