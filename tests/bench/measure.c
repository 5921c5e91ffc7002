/*
 * Runs a command with its output thrown away, and prints the milliseconds that it took as a whole
 * process, the most kilobytes that were resident, and its exit status. A small program of its own:
 * what a larger one had resident before it became the command would be counted too.
 */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

int main(int argument_count, char **arguments)
{
	struct rusage usage;
	int status = 0;
	if (argument_count < 2) {
		fputs("usage: measure COMMAND [WORD ...]\n", stderr);
		return 2;
	}
	double began = now_ms();
	pid_t child = fork();
	if (child == 0) {
		int nowhere = open("/dev/null", O_WRONLY);
		dup2(nowhere, STDOUT_FILENO);
		dup2(nowhere, STDERR_FILENO);
		execv(arguments[1], arguments + 1);
		_exit(127);
	}
	if (child < 0 || wait4(child, &status, 0, &usage) != child) {
		perror("measure");
		return 2;
	}
	double took = now_ms() - began;
	printf("%.3f %ld %d\n", took, usage.ru_maxrss,
	       WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status));
	return 0;
}
