"""What stands on the page: views, pieces that come by themselves, and what their fields say."""
