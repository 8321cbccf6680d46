"""What is worked out for the page, quickly in it and thoroughly in processes of their own."""
