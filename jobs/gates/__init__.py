"""What has to be in hand before money is spent on a job."""
