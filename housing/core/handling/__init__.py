"""What a finished box weighs on those who lift it and on the boxes below it."""
