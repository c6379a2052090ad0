/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Runs every suite: unit [NAME ...]; `--list` names them. The list is made by the Makefile
 * from the file names.
 *
 * CUnit's own verdict is not enough: a suite whose set-up fails counts no failed test. Hence
 * the exit rule at the end.
 */
#include <CUnit/Basic.h>
#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <string.h>

#define SUITE(name) extern CU_TestInfo tests_##name[];
#include "suites.h"
#undef SUITE

static CU_SuiteInfo suites[] = {
#define SUITE(name) {#name, NULL, NULL, NULL, NULL, tests_##name},
#include "suites.h"
#undef SUITE
    CU_SUITE_INFO_NULL};

static int wanted(const char *name, int argc, char **argv)
{
    for (int i = 1; i < argc; i++)
        if (strcmp(argv[i], name) == 0)
            return 1;
    return argc == 1;
}

int main(int argc, char **argv)
{
    unsigned registered = 0;

    gsl_set_error_handler_off();
    if (argc == 2 && strcmp(argv[1], "--list") == 0) {
        for (CU_SuiteInfo *s = suites; s->pName; s++)
            puts(s->pName);
        return 0;
    }
    if (CU_initialize_registry() != CUE_SUCCESS)
        return 1;
    for (CU_SuiteInfo *s = suites; s->pName; s++) {
        CU_SuiteInfo one[2] = {*s, CU_SUITE_INFO_NULL};

        if (!wanted(s->pName, argc, argv))
            continue;
        if (CU_register_suites(one) != CUE_SUCCESS)
            return 1;
        for (CU_TestInfo *t = s->pTests; t->pName; t++)
            registered++;
    }
    CU_basic_set_mode(CU_BRM_NORMAL);
    CU_basic_run_tests();
    {
        const CU_RunSummary *summary = CU_get_run_summary();
        int bad = summary->nFailureRecords > 0 || summary->nSuitesFailed > 0 ||
                  summary->nTestsRun != registered || registered == 0;

        CU_cleanup_registry();
        return bad;
    }
}
