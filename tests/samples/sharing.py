"""What the processes of one test run share: a folder, whose name is in the environment."""

SHARED = "AFTLIMIT_TESTS_SHARE"
