"""What the work uses: things to buy, rent or borrow, and gear to wear."""
