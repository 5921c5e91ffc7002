/* Who would write waits in a queue: first come, first served; never for ever; and the dead hold
 * nothing. */
#include <fcntl.h>
#include <signal.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <time.h>

#include "shop.h"

#define WRITERS 6
#define APART_US 40000

static double seconds_now(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* In a process of its own: one change, which takes so long and leaves its number on record. */
static void write_number(const char *path, int number, unsigned int takes_us)
{
	struct store *store;
	struct fault fault;
	char sql[128];
	fault_clear(&fault);
	snprintf(sql, sizeof sql,
	         "INSERT INTO shop (key, value) SELECT printf('n%%02d', count(*)), '%d' FROM shop"
	         " WHERE key LIKE 'n__'",
	         number);
	bool done = store_open(path, STORE_WRITE, false, &store, &fault) == OUTCOME_DONE &&
	            store_begin(store, "writer", &fault) == OUTCOME_DONE &&
	            sqlite3_exec(store->db, sql, NULL, NULL, NULL) == SQLITE_OK;
	usleep(takes_us);
	done = done && store_commit(store, &fault) == OUTCOME_DONE;
	if (!done) {
		fprintf(stderr, "writer %d: %s\n", number, fault.sentence);
	}
	_exit(done ? 0 : 1);
}

static void store_begin__several_wait__in_the_order_in_which_they_came(void **state)
{
	struct shop *shop = *state;
	pid_t writers[WRITERS];
	for (int i = 0; i < WRITERS; i++) {
		writers[i] = fork();
		if (writers[i] == 0) {
			write_number(shop->path, i, i == 0 ? 2 * WRITERS * APART_US : 0);
		}
		usleep(APART_US);
	}
	for (int i = 0; i < WRITERS; i++) {
		int status = -1;
		waitpid(writers[i], &status, 0);
		assert_int_equal(status, 0);
	}
	for (int i = 0; i < WRITERS; i++) {
		assert_int_equal(
			shop_number(shop,
		                arena_format(shop->arena,
		                             "SELECT CAST(value AS INTEGER) FROM shop WHERE key = 'n%02d'",
		                             i)),
			i);
	}
}

/* A process that holds the turn of the shop until it is killed. */
static pid_t turn_held(const struct shop *shop)
{
	int held[2];
	char told;
	assert_int_equal(pipe(held), 0);
	pid_t holder = fork();
	if (holder == 0) {
		if (flock(open(shop->path, O_RDONLY), LOCK_EX) == 0 && write(held[1], "x", 1) == 1) {
			pause();
		}
		_exit(1);
	}
	assert_int_equal(read(held[0], &told, 1), 1);
	close(held[0]);
	close(held[1]);
	return holder;
}

static void turn_take__held_too_long__waits_no_longer_and_the_lock_decides(void **state)
{
	struct shop *shop = *state;
	pid_t holder = turn_held(shop);
	double began = seconds_now();
	assert_false(turn_take(shop->store, 1));
	double waited = seconds_now() - began;
	assert_true(waited > 0.9 && waited < 5);
	kill(holder, SIGKILL);
	waitpid(holder, NULL, 0);
	assert_true(turn_take(shop->store, 1));
	turn_give(shop->store);
	assert_int_equal(store_begin(shop->store, "after", &shop->fault), OUTCOME_DONE);
	store_rollback(shop->store);
}

static void turn_take__holder_killed_meanwhile__goes_on_at_once(void **state)
{
	struct shop *shop = *state;
	pid_t holder = turn_held(shop);
	pid_t killer = fork();
	if (killer == 0) {
		usleep(200000);
		kill(holder, SIGKILL);
		_exit(0);
	}
	double began = seconds_now();
	assert_true(turn_take(shop->store, 10));
	assert_true(seconds_now() - began < 5);
	turn_give(shop->store);
	waitpid(killer, NULL, 0);
	waitpid(holder, NULL, 0);
}

static void turn_take__a_second_shop_of_the_same_folder__has_a_queue_of_its_own(void **state)
{
	struct shop *shop = *state;
	struct store *second;
	char path[128];
	pid_t holder = turn_held(shop);
	double began = seconds_now();
	snprintf(path, sizeof path, "%s/shop/second.db", shop->folder);
	assert_int_equal(store_open(path, STORE_MAKE, false, &second, &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_begin(second, "second", &shop->fault), OUTCOME_DONE);
	assert_true(second->queue > 0);
	assert_int_equal(store_commit(second, &shop->fault), OUTCOME_DONE);
	assert_int_equal(second->queue, 0);
	assert_true(seconds_now() - began < 5);
	store_close(second);
	kill(holder, SIGKILL);
	waitpid(holder, NULL, 0);
}

/* SQLite's own locks last for as long as the store is open, whatever the queue does. */
static void turn_give__another_store_of_the_same_file__keeps_its_locks(void **state)
{
	struct shop *shop = *state;
	struct store *second;
	assert_int_equal(store_begin(shop->store, "first", &shop->fault), OUTCOME_DONE);
	assert_int_equal(store_open(shop->path, STORE_READ, false, &second, &shop->fault),
	                 OUTCOME_DONE);
	assert_true(turn_take(second, 1));
	turn_give(second);
	store_close(second);
	pid_t other = fork();
	if (other == 0) {
		sqlite3 *db = NULL;
		_exit(sqlite3_open(shop->path, &db) == SQLITE_OK &&
		              sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL) == SQLITE_BUSY
		          ? 0
		          : 1);
	}
	int status = -1;
	waitpid(other, &status, 0);
	assert_int_equal(status, 0);
	assert_int_equal(store_commit(shop->store, &shop->fault), OUTCOME_DONE);
}

static void wait_signal(int signal)
{
	(void)signal;
}

/* Neither a mask that a parent left nor a signal that has nothing to do with it changes the wait.
 */
static void turn_take__signals__neither_end_it_nor_make_it_endless(void **state)
{
	struct shop *shop = *state;
	struct sigaction handled = {.sa_handler = wait_signal}, before;
	sigset_t blocked, masked;
	pid_t holder = turn_held(shop), self = getpid();
	sigemptyset(&handled.sa_mask);
	sigemptyset(&blocked);
	sigaddset(&blocked, SIGRTMIN);
	assert_int_equal(sigaction(SIGUSR1, &handled, &before), 0);
	assert_int_equal(sigprocmask(SIG_BLOCK, &blocked, &masked), 0);
	pid_t caller = fork();
	if (caller == 0) {
		usleep(200000);
		kill(self, SIGUSR1);
		_exit(0);
	}
	double began = seconds_now();
	assert_false(turn_take(shop->store, 1));
	double waited = seconds_now() - began;
	assert_true(waited > 0.9 && waited < 5);
	sigprocmask(SIG_SETMASK, &masked, NULL);
	sigaction(SIGUSR1, &before, NULL);
	kill(holder, SIGKILL);
	waitpid(holder, NULL, 0);
	waitpid(caller, NULL, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(store_begin__several_wait__in_the_order_in_which_they_came),
		SHOP_TEST(turn_take__held_too_long__waits_no_longer_and_the_lock_decides),
		SHOP_TEST(turn_take__holder_killed_meanwhile__goes_on_at_once),
		SHOP_TEST(turn_take__a_second_shop_of_the_same_folder__has_a_queue_of_its_own),
		SHOP_TEST(turn_give__another_store_of_the_same_file__keeps_its_locks),
		SHOP_TEST(turn_take__signals__neither_end_it_nor_make_it_endless),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
