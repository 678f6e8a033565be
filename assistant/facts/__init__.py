"""What is told and asked, as typed values: events, and what a batch waits for."""
