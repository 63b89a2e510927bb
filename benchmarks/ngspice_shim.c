/* A thin way into libngspice: no printing, no callback into Python while it works. */
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <ngspice/sharedspice.h>

static int quiet_char(char *text, int id, void *user) {
    (void)text, (void)id, (void)user;
    return 0;
}

static int quiet_exit(int status, NG_BOOL immediate, NG_BOOL quit, int id, void *user) {
    (void)status, (void)immediate, (void)quit, (void)id, (void)user;
    return 0;
}

static int quiet_data(pvecvaluesall all, int count, int id, void *user) {
    (void)all, (void)count, (void)id, (void)user;
    return 0;
}

static int quiet_init(pvecinfoall all, int id, void *user) {
    (void)all, (void)id, (void)user;
    return 0;
}

static int quiet_thread(NG_BOOL idle, int id, void *user) {
    (void)idle, (void)id, (void)user;
    return 0;
}

/* Start the simulator. Returns 0 if it took. */
int peer_start(void) {
    return ngSpice_Init(quiet_char, quiet_char, quiet_exit, quiet_data, quiet_init, quiet_thread,
                        NULL);
}

/* Load a deck of `count` lines. */
int peer_load(char **lines) { return ngSpice_Circ(lines); }

/* Run commands one after the other, as many as there are. */
int peer_run(char **commands, int count) {
    for (int i = 0; i < count; i++) {
        int failed = ngSpice_Command(commands[i]);
        if (failed) return failed;
    }
    return 0;
}

/* Read the last value of each named vector. Returns how many were not found. */
int peer_read(char **names, double *values, int count) {
    int missing = 0;
    for (int i = 0; i < count; i++) {
        pvector_info found = ngGet_Vec_Info(names[i]);
        if (found == NULL || found->v_realdata == NULL) {
            missing++;
            continue;
        }
        values[i] = found->v_realdata[found->v_length - 1];
    }
    return missing;
}
