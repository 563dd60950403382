"""The same questions through each door: command line, HTTP and pages, SQL."""
